// Makes whole what was stored, whatever its age or state, and says whether anything in it was lost on the way.

import {BOARD_TEXTS, PILE_TEXTS, SETTINGS} from '../base/fields.js'
import {asText, isObject, newBoard, newDraft, newId, withPlaces} from '../base/job.js'

/** Parts of a document that the page has no field for: a draft carries them in `extra`. */
const CARRIED = ['run', 'parts']

/**
 * A stored draft of any age or state, made whole: every text a text, every list a list. What has no place in it is left
 * out: see `isLost`.
 * @param {unknown} raw
 */
export function mend(raw) {
  const {units, id} = isObject(raw) ? raw : {}
  const draft = newDraft(units === 'mm' ? 'mm' : 'in', typeof id === 'string' && id ? id : newId())
  if (!isObject(raw)) return draft
  draft.example = raw.example === true
  draft.taught = raw.taught === true
  draft.here = raw.here === true
  draft.title = asText(raw.title)
  for (const [path, value] of Object.entries(isObject(raw.settings) ? raw.settings : {})) {
    if (path in SETTINGS) draft.settings[path] = asText(value)
  }
  for (const key of /** @type {const} */ (['name', ...PILE_TEXTS])) {
    if (isObject(raw.pile) && key in raw.pile) draft.pile[key] = asText(raw.pile[key])
  }
  for (const entry of Array.isArray(raw.boards) ? raw.boards.filter(isObject) : [])
    draft.boards.push(mendedBoard(entry, draft.boards))
  draft.extra = isObject(raw.extra) ? raw.extra : {}
  for (const key of CARRIED) if (key in raw && !(key in draft.extra)) draft.extra = {...draft.extra, [key]: raw[key]}
  return draft
}

/** @param {Record<string, unknown>} entry @param {{name: string}[]} before */
function mendedBoard(entry, before) {
  const board = newBoard(before, entry.follows !== false)
  for (const key of /** @type {const} */ (['id', 'entry', 'spot', ...BOARD_TEXTS])) {
    if (key in entry) board[key] = asText(entry[key]) || board[key]
  }
  const readings = (Array.isArray(entry.readings) ? entry.readings : [entry.readings]).map(asText)
  const places = withPlaces(readings, entry.places)
  board.readings = readings.filter(Boolean)
  board.places = places.filter((_, n) => readings[n])
  board.extra = isObject(entry.extra) ? entry.extra : {}
  return board
}

/**
 * Something that stands in `raw` does not stand in `made`: a text or a number, under the name nearest to it.
 * @param {unknown} raw
 * @param {unknown} made
 */
export function isLost(raw, made) {
  const here = counted(made)
  return [...counted(raw)].some(([leaf, count]) => (here.get(leaf) ?? 0) < count)
}

/**
 * How often each text, number and yes stands in a value, with the name nearest to it.
 * @param {unknown} value
 * @param {Map<string, number>} [counts]
 */
function counted(value, name = '', counts = new Map()) {
  if (Array.isArray(value)) for (const one of value) counted(one, name, counts)
  else if (isObject(value)) for (const [key, one] of Object.entries(value)) counted(one, key, counts)
  else if (asText(value) && value !== false && name !== 'id') {
    const leaf = JSON.stringify([name, asText(value)])
    counts.set(leaf, (counts.get(leaf) ?? 0) + 1)
  }
  return counts
}
