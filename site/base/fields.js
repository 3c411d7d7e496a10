// What the scripts know of the fields of a job: how each is entered, and what stands for it. The build writes it from the
// core's table.

/** @import {BoardText, PileText, Setting} from './types.js' */

/**
 * A spot where a reading is taken: as documents have it, its name, as one says it, how far from the left edge, and where along
 * the board as one says it.
 * @typedef {{place: string, name: string, words: string, row: number, along: string}} Spot
 */
/**
 * @typedef {object} Told
 * @property {Record<string, Setting>} settings
 * @property {BoardText[]} board
 * @property {Record<PileText, BoardText | 'readings'>} pile
 * @property {Record<string, string[]>} lengths
 * @property {Spot[]} spots
 */

/** @type {Told} */
const told = JSON.parse(document.getElementById('fields')?.textContent ?? '')

/** Every setting of a job that the page asks for, by its path in the document. */
export const SETTINGS = told.settings
/** The texts of a board beside its readings, by their keys in the document. */
export const BOARD_TEXTS = told.board
/** The numbers of a whole pile, each with the key of a board that it stands for. */
export const PILE = told.pile
export const PILE_TEXTS = /** @type {PileText[]} */ (Object.keys(PILE))
/** The keys of boards, bad stretches, parts and events that hold lengths. */
export const LENGTHS = told.lengths
/** The spots of a board, from end 1 to end 2, each row from the left edge to the right. */
export const SPOTS = told.spots

/**
 * A text for each of some keys, as yet empty.
 * @template {string} Key
 * @param {Key[]} keys
 * @returns {Record<Key, string>}
 */
export const blank = (keys) => /** @type {Record<Key, string>} */ (Object.fromEntries(keys.map((key) => [key, ''])))
