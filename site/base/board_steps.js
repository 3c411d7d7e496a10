// What can be done with the boards, step by step. Each step takes the draft and the hand ({board: id, chosen: reading
// or null}) and returns both anew. Pure functions.

import {newBoard, takenOver, withPlaces} from './job.js'

/** @import {Board, Draft, Hand} from './types.js' */

/** The sizes that a board before may stand for. */
const SIZES = /** @type {const} */ (['width', 'length'])

/** The board in hand, else the last. @param {Draft} draft @param {Hand} hand */
export function boardIn(draft, hand) {
  const found = draft.boards.find((board) => board.id === hand.board) ?? draft.boards.at(-1)
  if (!found) throw new Error('A draft in hand has a board')
  return found
}

/**
 * A draft has at least one board to enter readings into, and one of them is in hand.
 * @param {Draft} draft
 * @param {Hand} hand
 */
export function settled(draft, hand) {
  const boards = draft.boards.length ? draft.boards : [newBoard([])]
  const next = {...draft, boards}
  const board = boardIn(next, hand)
  const chosen =
    board.id === hand.board && hand.chosen !== null && hand.chosen < board.readings.length ? hand.chosen : null
  return {draft: next, hand: {board: board.id, chosen}}
}

/** @param {Draft} draft @param {string} id @param {Partial<Board>} changes */
export function withBoard(draft, id, changes) {
  return {...draft, boards: draft.boards.map((board) => (board.id === id ? {...board, ...changes} : board))}
}

/**
 * The text of the reading field: the reading being changed, or the one being entered.
 * @param {Draft} draft
 * @param {Hand} hand
 */
export function readingText(draft, hand) {
  const board = boardIn(draft, hand)
  return hand.chosen === null ? board.entry : (board.readings[hand.chosen] ?? '')
}

/** @param {Draft} draft @param {Hand} hand @param {string} text */
export function readingTyped(draft, hand, text) {
  const board = boardIn(draft, hand)
  if (hand.chosen === null) return {draft: withBoard(draft, board.id, {entry: text}), hand}
  return {
    draft: withBoard(draft, board.id, {readings: board.readings.map((old, n) => (n === hand.chosen ? text : old))}),
    hand,
  }
}

/**
 * Where the reading in hand was taken: the one being changed, or the one being entered.
 * @param {Draft} draft
 * @param {Hand} hand
 */
export function spotOf(draft, hand) {
  const board = boardIn(draft, hand)
  return hand.chosen === null ? board.spot : (withPlaces(board.readings, board.places)[hand.chosen] ?? '')
}

/**
 * The reading in hand was taken at this spot; the same spot once more: nobody knows where.
 * @param {Draft} draft
 * @param {Hand} hand
 * @param {string} spot
 */
export function spotTapped(draft, hand, spot) {
  const board = boardIn(draft, hand)
  const taken = spotOf(draft, hand) === spot ? '' : spot
  if (hand.chosen === null) return {draft: withBoard(draft, board.id, {spot: taken}), hand}
  const places = withPlaces(board.readings, board.places).map((place, n) => (n === hand.chosen ? taken : place))
  return {draft: withBoard(draft, board.id, {places}), hand}
}

/**
 * The reading is complete; the next one is awaited. A reading changed to nothing is gone.
 * @param {Draft} draft
 * @param {Hand} hand
 */
export function readingTaken(draft, hand) {
  const board = boardIn(draft, hand)
  const places = withPlaces(board.readings, board.places)
  const all = [...board.readings, hand.chosen === null ? board.entry : ''].map((text, n) => [
    text.trim(),
    places[n] ?? board.spot,
  ])
  const kept = all.filter(([text]) => text)
  const [entry, spot] = hand.chosen === null ? ['', ''] : [board.entry, board.spot]
  const changes = {readings: kept.map(([text]) => text), places: kept.map(([, place]) => place), entry, spot}
  return {draft: withBoard(draft, board.id, changes), hand: {board: board.id, chosen: null}}
}

/**
 * The chosen reading, else the last one, is taken back; `gone` is its text, or null when there was none.
 * @param {Draft} draft
 * @param {Hand} hand
 */
export function readingTakenBack(draft, hand) {
  const board = boardIn(draft, hand)
  const at = hand.chosen ?? board.readings.length - 1
  const readings = board.readings.filter((_, n) => n !== at)
  const places = withPlaces(board.readings, board.places).filter((_, n) => n !== at)
  return {
    draft: withBoard(draft, board.id, {readings, places}),
    hand: {board: board.id, chosen: null},
    gone: board.readings[at] ?? null,
  }
}

/**
 * Another board comes to hand; a reading still in the field is taken first.
 * @param {Draft} draft
 * @param {Hand} hand
 * @param {string} id
 */
export function boardTaken(draft, hand, id) {
  const taken = readingTaken(draft, hand)
  return {draft: taken.draft, hand: {board: id, chosen: null}}
}

/**
 * The board after this one; after the last, a new one, unless the last has nothing yet.
 * @param {Draft} draft
 * @param {Hand} hand
 */
export function nextBoard(draft, hand) {
  const taken = readingTaken(draft, hand)
  const board = boardIn(taken.draft, taken.hand)
  const next = taken.draft.boards[taken.draft.boards.indexOf(board) + 1]
  if (next) return {draft: taken.draft, hand: {board: next.id, chosen: null}}
  if (!board.readings.length) return taken
  const fresh = newBoard(taken.draft.boards)
  return {draft: {...taken.draft, boards: [...taken.draft.boards, fresh]}, hand: {board: fresh.id, chosen: null}}
}

/** @param {Draft} draft @param {Hand} hand @param {number} step */
export function neighbor(draft, hand, step) {
  return draft.boards[draft.boards.indexOf(boardIn(draft, hand)) + step] ?? null
}

/** @param {Draft} draft @param {Hand} hand */
export function boardCopied(draft, hand) {
  const taken = readingTaken(draft, hand)
  const from = boardIn(taken.draft, taken.hand)
  const {id, name} = newBoard(taken.draft.boards)
  const at = taken.draft.boards.indexOf(from) + 1
  const boards = [
    ...taken.draft.boards.slice(0, at),
    {...structuredClone(from), id, name},
    ...taken.draft.boards.slice(at),
  ]
  return {draft: {...taken.draft, boards}, hand: {board: id, chosen: null}, from: from.name, name}
}

/** @param {Draft} draft @param {Hand} hand */
export function boardDeleted(draft, hand) {
  const gone = boardIn(draft, hand)
  const at = draft.boards.indexOf(gone)
  const boards = draft.boards.filter((board) => board !== gone)
  const next = boards[at] ?? boards[at - 1]
  return {...settled({...draft, boards}, {board: next?.id ?? '', chosen: null}), gone: gone.name}
}

/**
 * What of a board nobody knows yet, not even from the board before or the pile: 'width', 'length' or undefined.
 * @param {Draft} draft
 * @param {Hand} hand
 */
export function unknownSize(draft, hand) {
  const board = boardIn(draft, hand)
  const at = draft.boards.indexOf(board)
  return SIZES.find((key) => !board[key].trim() && !takenOver(draft, at, key))
}

/**
 * The last reading so far that is fit for something, or null.
 * @param {Draft} draft
 * @param {Hand} hand
 * @param {(text: string) => boolean} fit
 */
export function lastReading(draft, hand, fit) {
  for (let at = draft.boards.indexOf(boardIn(draft, hand)); at >= 0; at -= 1) {
    const found = draft.boards[at].readings.findLast(fit)
    if (found !== undefined) return found
  }
  return null
}
