// The text of each field of the page, as the draft has it, and what an empty one stands for.

import {boardIn, readingText, readingTyped, withBoard} from '../base/board_steps.js'
import {SETTINGS} from '../base/fields.js'
import {pileBegun, takenOver, woodTakenOver} from '../base/job.js'

/** @import {BoardText, Held, PileText, State} from '../base/types.js' */

/**
 * The text of a field; undefined where the draft has none, as of a reading of the run.
 * @param {State} state
 * @param {string} field
 */
export function textOf({draft, hand}, field) {
  const [group, key] = field.split('.')
  if (field === 'title') return draft.title
  if (field === 'board.entry') return readingText(draft, hand)
  if (group === 'board') return boardIn(draft, hand)[/** @type {BoardText} */ (key)] ?? ''
  if (group === 'pile') return draft.pile[/** @type {PileText} */ (key)] ?? ''
  return field in SETTINGS ? (draft.settings[field] ?? '') : undefined
}

/**
 * The draft with this text in a field.
 * @param {Held} held
 * @param {string} field
 * @param {string} text
 * @returns {Held}
 */
export function withText({draft, hand}, field, text) {
  const [group, key] = field.split('.')
  if (field === 'title') return {draft: {...draft, title: text}, hand}
  if (field === 'board.entry') return readingTyped(draft, hand, text)
  if (group === 'board') return {draft: withBoard(draft, boardIn(draft, hand).id, {[key]: text}), hand}
  if (group === 'pile') return {draft: {...draft, pile: {...draft.pile, [key]: text}}, hand}
  return {draft: {...draft, settings: {...draft.settings, [field]: text}}, hand}
}

/**
 * What an empty field stands for; empty where it stands for nothing, undefined where that is not known here.
 * @param {State} state
 * @param {string} field
 */
export function placeholderOf({draft, hand}, field) {
  const [group, key] = field.split('.')
  const at = draft.boards.indexOf(boardIn(draft, hand))
  if (group === 'board' && (key === 'width' || key === 'length')) return takenOver(draft, at, key)?.text ?? ''
  if (group === 'board' && (key === 'species' || key === 'density')) return woodTakenOver(draft, at)?.[key] ?? ''
  if (group === 'pile') return key === 'count' && pileBegun(draft) ? '1' : ''
  if (!(field in SETTINGS)) return undefined
  return String(SETTINGS[field][draft.units] ?? '')
}
