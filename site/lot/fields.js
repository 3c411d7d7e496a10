// Every field of the page that holds a text of the draft: its value, how it was understood, what is wrong with it.

import {$, $$, say} from '../base/dom.js'

/**
 * `onInput(field, text)` for each change, `onEnter(field)` for Enter in a field.
 * A field is an element with `data-field`; its text is in the input or select inside it.
 */
export function createFields(root, {onInput, onEnter}) {
  const inputOf = (field) => $('input, select', field)

  root.addEventListener('input', (event) => {
    const field = event.target.closest('[data-field]')
    if (field && inputOf(field) === event.target) onInput(field.dataset.field, event.target.value)
  })
  root.addEventListener('keydown', (event) => {
    if (event.key !== 'Enter' || event.isComposing || event.target.tagName !== 'INPUT') return
    const field = event.target.closest('[data-field]')
    if (!field) return
    event.preventDefault()
    onEnter(field.dataset.field)
  })

  return {
    /** Shows the texts; `placeholderOf(field)` says what an empty one stands for. */
    show(textOf, placeholderOf = () => '') {
      for (const field of $$('[data-field]', root)) {
        const input = inputOf(field)
        if (!input) continue
        const text = textOf(field.dataset.field)
        if (text !== undefined && input.value !== text) input.value = text
        const placeholder = placeholderOf(field.dataset.field)
        if (placeholder !== undefined && input.placeholder !== placeholder && input.tagName === 'INPUT')
          input.placeholder = placeholder
      }
    },

    /** Gives each field its place in the job document. */
    place(pathOf) {
      for (const field of $$('[data-field]', root)) {
        const path = pathOf(field.dataset.field) ?? ''
        if (field.dataset.at !== path) field.dataset.at = path
      }
    },

    /**
     * Tells beside each field how it was understood, and its problems, without what the field's own label says. Returns the labels of the
     * fields that are awaited, the texts of the problems that are more than that, and all problems as the page tells them.
     */
    tell(understood, problems) {
      // A reading of the run is no text of the draft: what is said of it, others say.
      const all = $$('[data-at]', root).filter(
        (place) => $(':scope > .problem', place) && !place.dataset.field?.startsWith('run.'),
      )
      const places = all.filter((place) => place.dataset.at)
      const texts = new Map()
      const awaited = []
      const wrong = []
      const told = []
      for (const {at, text, about} of problems) {
        const place = fieldAt(places, at)
        // A row stands for a whole board: only there the text has to say what of it is meant.
        const short = about && !place?.matches('.row') ? capital(text.slice(about.length + 2)) : text
        const label = place && $('label', place)?.textContent
        // In the form of the whole pile no board and no reading has a name.
        const whole = about && place?.closest('#pile') ? `${label}: ${short}` : text
        told.push({at, text: whole})
        if (place) texts.set(place, [...(texts.get(place) ?? []), short])
        if (place && inputOf(place) && inputOf(place).value.trim() === '') awaited.push(label)
        else wrong.push(whole)
      }
      for (const place of all) {
        const said = $(':scope > .understood', place)
        if (said) say(said, understood[place.dataset.at] ?? '')
        const problem = $(':scope > .problem', place)
        const input = inputOf(place)
        const mine = texts.get(place) ?? []
        if (problem) say(problem, mine.join(' '))
        place.classList.toggle('wrong', mine.length > 0)
        // A field nobody has come to yet is asked for quietly.
        place.classList.toggle('awaited', mine.length > 0 && !!input && input.value.trim() === '')
        if (input && problem) {
          input.setAttribute('aria-invalid', String(mine.length > 0))
          problem.id ||= `${input.id}-problem`
          input.setAttribute('aria-describedby', problem.id)
        }
      }
      return {awaited: [...new Set(awaited)], wrong, told}
    },

    focus(field) {
      const place = $(`[data-field="${CSS.escape(field)}"]`, root)
      inputOf(place ?? root)?.focus()
    },
  }
}

const capital = (text) => text.charAt(0).toUpperCase() + text.slice(1)

/** The one of `places` that stands for a path: the same path, else the first below it, else the nearest above it. */
function fieldAt(places, path) {
  const same = places.find((place) => place.dataset.at === path)
  if (same) return same
  const below = places.find(
    (place) => /^[.[]/.test(place.dataset.at.slice(path.length)) && place.dataset.at.startsWith(path),
  )
  if (below) return below
  const above = path.replace(/(\.[^.[\]]+|\[\d+\])$/, '')
  return above && above !== path ? fieldAt(places, above) : null
}
