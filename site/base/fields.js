// What the scripts know of the fields of a job: how each is entered, and what stands for it. The build writes it from the
// core's table.

/** @import {BoardText, PileText, Setting} from './types.js' */

/**
 * @typedef {object} Told
 * @property {Record<string, Setting>} settings
 * @property {BoardText[]} board
 * @property {Record<PileText, BoardText | 'readings'>} pile
 * @property {Record<string, string[]>} lengths
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

/**
 * A text for each of some keys, as yet empty.
 * @template {string} Key
 * @param {Key[]} keys
 * @returns {Record<Key, string>}
 */
export const blank = (keys) => /** @type {Record<Key, string>} */ (Object.fromEntries(keys.map((key) => [key, ''])))
