// A field for what was measured after the run: the pad is for it, as for a reading of the run, but it is no text of the
// draft.

import {$, around, asCure, h, markWrong, sayProblem, seek} from '../base/dom.js'

/** @import {Attributes} from '../base/dom.js' */
/** @import {Problem} from '../base/types.js' */

/**
 * @param {string} label
 * @param {string} id
 * @param {'fine' | 'figures'} pad
 * @param {(event: Event) => void} typed
 * @param {Attributes} [attributes]
 */
export function measureField(label, id, pad, typed, attributes = {}) {
  const input = h('input', {
    id,
    'data-pad': pad,
    autocomplete: 'off',
    spellcheck: 'false',
    enterkeyhint: 'next',
    oninput: typed,
  })
  return field(label, id, {...attributes, 'data-field': 'run.after'}, input)
}

/** @param {string} label @param {string} id @param {Attributes} attributes @param {HTMLElement} input */
export function field(label, id, attributes, input) {
  return h(
    'div',
    {class: 'field', ...attributes},
    h('label', {for: id}, label),
    input,
    h('p', {class: 'problem', role: 'alert'}),
  )
}

/** The input of a field. @param {HTMLElement} place */
export const inputIn = (place) => $('input', place, HTMLInputElement)

/**
 * What is wrong with the text of a field, or '', and what would cure it.
 * @param {HTMLElement} place
 * @param {string} text
 * @param {string[]} [cures]
 */
export function tell(place, text, cures = []) {
  const problem = $('.problem', place)
  sayProblem(
    problem,
    text,
    cures.map((cure) => asCure(cure)),
  )
  place.classList.toggle('wrong', text !== '')
  markWrong(inputIn(place), problem, text !== '')
}

/**
 * Problems beside their fields, without what the field's own label says.
 * @param {HTMLElement} root
 * @param {Problem[]} problems
 * @param {(path: string) => HTMLElement} placeOf
 */
export function tellAll(root, problems, placeOf) {
  for (const {at, text, short, cures} of problems) tell(placeOf(at), short ?? text, cures)
  seek('.wrong input', root)?.focus()
}

/** The field that an event comes from is not wrong any more. @param {Event} event */
export function untell({target}) {
  const place = around(target, '.field')
  if (place) tell(place, '')
}
