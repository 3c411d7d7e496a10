// A row of fields of which the page has as many as there are parts or bad stretches; the build wrote what a row is made of.

import {$, $$} from '../base/dom.js'

/**
 * The fields of one more row, named `id`, with the texts that it has; `onInput()` for each change.
 * @param {string} template
 * @param {string} id
 * @param {Record<string, unknown>} texts
 * @param {() => void} onInput
 */
export function rowOf(template, id, texts, onInput) {
  const made = /** @type {DocumentFragment} */ ($(template, document, HTMLTemplateElement).content.cloneNode(true))
  const row = $('.pair', made)
  for (const place of $$('.field', row)) {
    const key = place.dataset.part ?? ''
    const input = $('input', place, HTMLInputElement)
    input.id = `${id}-${key}`
    $('label', place, HTMLLabelElement).htmlFor = input.id
    input.value = texts[key] === undefined ? '' : String(texts[key])
    input.addEventListener('input', onInput)
  }
  return row
}
