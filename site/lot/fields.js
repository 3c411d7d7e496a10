// Every field of the page that holds a text of the draft: its value, how it was understood, what is wrong with it.

import {$$, around, asCure, markWrong, say, sayProblem, seek} from '../base/dom.js'

import {above, isInside} from '../base/places.js'

/** @import {Cure} from '../base/dom.js' */
/** @import {Problem} from '../base/types.js' */
/** @typedef {{text: string, cures: Cure[], asked?: boolean}} Wrong What is said at a field, and what settles it; `asked`: it only asks. */

/**
 * `onInput(field, text)` for each change, `onEnter(field)` for Enter in a field.
 * A field is an element with `data-field`; its text is in the input or select inside it.
 * @param {HTMLElement} root
 * @param {{onInput: (field: string, text: string) => void, onEnter: (field: string) => void}} handlers
 */
export function createFields(root, {onInput, onEnter}) {
  root.addEventListener('input', ({target}) => {
    const field = around(target, '[data-field]')
    const input = field && inputOf(field)
    if (input && input === target) onInput(nameOf(field), input.value)
  })
  root.addEventListener('keydown', (event) => {
    if (event.key !== 'Enter' || event.isComposing || !(event.target instanceof HTMLInputElement)) return
    const field = around(event.target, '[data-field]')
    if (!field) return
    event.preventDefault()
    onEnter(nameOf(field))
  })

  return {
    /**
     * Shows the texts; `placeholderOf(field)` says what an empty one stands for.
     * @param {(field: string) => string | undefined} textOf
     * @param {(field: string) => string | undefined} placeholderOf
     */
    show(textOf, placeholderOf) {
      for (const field of $$('[data-field]', root)) {
        const input = inputOf(field)
        if (!input) continue
        const text = textOf(nameOf(field))
        if (text !== undefined && input.value !== text) input.value = text
        if (!(input instanceof HTMLInputElement)) continue
        const known = placeholderOf(nameOf(field))
        const placeholder = known || (input.dataset.example ?? '')
        if (known !== undefined && input.placeholder !== placeholder) input.placeholder = placeholder
      }
    },

    /** Gives each field its place in the job document. @param {(field: string) => string | undefined} pathOf */
    place(pathOf) {
      for (const field of $$('[data-field]', root)) {
        const path = pathOf(nameOf(field)) ?? ''
        if (field.dataset.at !== path) field.dataset.at = path
      }
    },

    /**
     * Tells beside each field how it was understood, and its problems, without what the field's own label says. Returns
     * the labels of the fields that are awaited, the texts of the problems that are more than that, and all problems as
     * the page tells them. Of `notes`, which refuse nothing, those that a key can settle stand there too.
     * @param {Record<string, string>} understood
     * @param {Problem[]} problems
     * @param {Problem[]} [notes]
     */
    tell(understood, problems, notes = []) {
      // A reading of the run is no text of the draft: what is said of it, others say.
      const all = $$('[data-at]', root).filter(
        (place) => seek(':scope > .problem', place) && !place.dataset.field?.startsWith('run.'),
      )
      const places = all.filter((place) => place.dataset.at)
      const {texts, awaited, wrong, told} = sorted(places, problems)
      for (const {at, text, cures = []} of notes) {
        const place = cures.length && places.find(({dataset}) => dataset.at === at)
        if (place)
          texts.set(place, [...(texts.get(place) ?? []), {text, cures: cures.map((one) => asCure(one)), asked: true}])
      }
      for (const place of all) tellAt(place, understood[place.dataset.at ?? ''] ?? '', texts.get(place) ?? [])
      return {awaited, wrong, told}
    },

    /** @param {string} field */
    focus(field) {
      const place = seek(`[data-field="${CSS.escape(field)}"]`, root)
      inputOf(place ?? root)?.focus()
    },
  }
}

/** @param {HTMLElement} field */
const nameOf = (field) => field.dataset.field ?? ''

/** @param {HTMLElement} field */
const inputOf = (field) => seek('input', field, HTMLInputElement) ?? seek('select', field, HTMLSelectElement)

/**
 * How a field was understood, and what is wrong with it.
 * @param {HTMLElement} place
 * @param {string} understood
 * @param {Wrong[]} wrong
 */
function tellAt(place, understood, wrong) {
  const said = seek(':scope > .understood', place)
  if (said) say(said, understood)
  const problem = seek(':scope > .problem', place)
  const cures = wrong.flatMap((one) => one.cures)
  if (problem) sayProblem(problem, wrong.map(({text}) => text).join(' '), cures)
  const input = inputOf(place)
  const isWrong = wrong.some(({asked}) => !asked)
  place.classList.toggle('wrong', isWrong)
  // A field nobody has come to yet is asked for quietly.
  place.classList.toggle('awaited', isWrong && input?.value.trim() === '')
  if (input && problem) markWrong(input, problem, isWrong)
}

/**
 * The texts of each field, the labels of those that are awaited, the texts of the problems that are more than that, and
 * all of them as the page tells them.
 * @param {HTMLElement[]} places
 * @param {Problem[]} problems
 */
function sorted(places, problems) {
  /** @type {Map<HTMLElement, Wrong[]>} */
  const texts = new Map()
  /** @type {Set<string>} */
  const awaited = new Set()
  const wrong = []
  /** @type {Problem[]} */
  const told = []
  for (const {at, text, short: beside, cures = []} of problems) {
    const place = fieldAt(places, at)
    // A row stands for a whole board: only there the text has to say what of it is meant.
    const short = beside && !place?.matches('.row') ? beside : text
    const label = (place && seek('label', place)?.textContent) ?? ''
    // In the form of the whole pile no board and no reading has a name.
    const whole = beside && place?.closest('#pile') ? `${label}: ${short}` : text
    told.push({at, text: whole})
    if (place) texts.set(place, [...(texts.get(place) ?? []), {text: short, cures: curesAt(place, at, cures)}])
    if (place && inputOf(place)?.value.trim() === '') awaited.add(label)
    else wrong.push(whole)
  }
  return {texts, awaited: [...awaited], wrong, told}
}

/**
 * What settles a problem stands only at the very field that it speaks of. The thickest spot of the pile offers the
 * thinnest, and the other way round: together they change places.
 * @param {HTMLElement} place
 * @param {string} at
 * @param {string[]} cures
 */
function curesAt({dataset}, at, cures) {
  if (at.startsWith('pile.')) return cures.map((text) => ({...asCure(text, 'Swap them'), swaps: true}))
  return dataset.at === at ? cures.map((text) => asCure(text)) : []
}

/**
 * The one of `places` that stands for a path: the same path, else the first below it, else the nearest above it; or the
 * field that a question beside the job names.
 * @param {HTMLElement[]} places
 * @param {string} path
 * @returns {HTMLElement | null}
 */
function fieldAt(places, path) {
  const same = places.find(({dataset}) => dataset.at === path) ?? places.find(({dataset}) => dataset.field === path)
  if (same) return same
  const below = places.find(({dataset: {at = ''}}) => isInside(at, path))
  if (below) return below
  const outer = above(path)
  return outer ? fieldAt(places, outer) : null
}
