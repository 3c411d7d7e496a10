// What is typed and stands nowhere else yet: a reading of the run before it is entered, a table before it is taken.

import {$$, around} from '../base/dom.js'
import {textOf} from './texts.js'

/** @import {State} from '../base/types.js' */

const TEXTS = 'input:not([type=checkbox], [type=radio], [type=file], [type=search], [readonly]), textarea'

/**
 * True while a field holds a text that is neither of the draft nor of a form that is kept.
 * @param {HTMLElement} root
 * @param {State} state
 */
export function isSomethingTyped(root, state) {
  return $$(TEXTS, root).some((field) => {
    if (!(field instanceof HTMLInputElement || field instanceof HTMLTextAreaElement)) return false
    if (!field.value.trim() || field.value === field.defaultValue) return false
    const name = around(field, '[data-field]')?.dataset.field
    const ofDraft = name !== undefined && textOf(state, name) !== undefined
    const inDocument = Boolean(around(field, '[data-at]')?.dataset.at)
    return !ofDraft && !inDocument && !around(field, '[data-kept]')
  })
}
