// The entries of a small form that belongs to no job. The build makes its fields from the core's table.

import {$, $$, around, asCure, curesOf, sayProblem} from './dom.js'

/** @import {Problem, Settings} from './types.js' */

/** @param {HTMLElement} place */
function inputIn(place) {
  const found = $('input, select', place)
  if (found instanceof HTMLInputElement || found instanceof HTMLSelectElement) return found
  throw new Error('A field has no entry')
}
/** @param {HTMLElement} place */
const keyOf = (place) => inputIn(place).dataset.key ?? ''

export class FormEntries {
  #places
  /** What the core calls the entries of this form. */
  key

  /** `onTyped()`: an entry is another. @param {HTMLElement} form @param {() => void} onTyped */
  constructor(form, onTyped) {
    this.key = form.dataset.key ?? ''
    this.#places = $$('.field', form)
    form.addEventListener('input', onTyped)
    form.addEventListener('click', ({target}) => {
      const button = around(target, '[data-cure]')
      const place = around(button, '.field')
      const cure = place && curesOf($('.problem', place))[Number(button?.dataset.cure)]
      if (!cure) return
      inputIn(place).value = cure.text
      onTyped()
    })
  }

  /** The texts that are entered. @returns {Settings} */
  texts() {
    const all = this.#places.map((place) => [keyOf(place), inputIn(place).value.trim()])
    return Object.fromEntries(all.filter(([, text]) => text))
  }

  /** @param {Settings} texts */
  fill(texts) {
    for (const place of this.#places) inputIn(place).value = texts[keyOf(place)] ?? ''
  }

  /** Problems beside their fields; gives the labels of those that are empty still. @param {Problem[]} problems */
  tell(problems) {
    const missing = []
    for (const place of this.#places) {
      const {text = '', short = text, cures = []} = problems.find(({at}) => at === place.dataset.entry) ?? {}
      const empty = inputIn(place).value.trim() === ''
      sayProblem($('.problem', place), empty ? '' : short, empty ? [] : cures.map((cure) => asCure(cure)))
      if (text && empty) missing.push($('label', place).textContent)
    }
    return missing
  }
}
