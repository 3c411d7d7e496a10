// The job as it is being entered: the draft. Pure functions; texts stay as typed. Its document is made in document.js.

import {BOARD_TEXTS, blank, LENGTHS, PILE, PILE_TEXTS, SETTINGS} from './fields.js'
import {aboutMm, restate, restatePrice} from './lengths.js'

/** @import {Board, Defect, Draft, Extra, Part, Pile, PlanerRecord, RunEvent, Settings, Units} from './types.js' */

const PILE_KEYS = /** @type {const} */ (['thickest', 'thinnest', 'count', 'widest', 'longest'])
export const PILE_NAME = 'Pile'

/** @param {Units} [units] @param {string} [id] @returns {Draft} */
export function newDraft(units = 'in', id = newId()) {
  return {
    id,
    example: false,
    taught: false,
    here: false,
    title: '',
    units,
    settings: {},
    boards: [],
    pile: {name: PILE_NAME, ...blank(PILE_TEXTS)},
    extra: {},
  }
}

export function newId() {
  return Array.from(crypto.getRandomValues(new Uint8Array(6)), (byte) => byte.toString(16).padStart(2, '0')).join('')
}

/** A setting that belongs to the lot: a new lot does not take it over. @param {string} path */
export const isOfLot = (path) => SETTINGS[path]?.with === 'lot'
/**
 * A setting that goes with the planer from job to job; how boards are cut and what their wood costs does not.
 * @param {string} path
 */
export const isOfPlaner = (path) => SETTINGS[path]?.with === 'planer'

/** A, B, ... Z, AA, AB, ...: the first mark that no board has. @param {{name: string}[]} boards */
export function freeName(boards) {
  const taken = new Set(boards.map((board) => board.name))
  for (let n = 0; ; n += 1) {
    const name = n < 26 ? String.fromCharCode(65 + n) : String.fromCharCode(64 + Math.floor(n / 26), 65 + (n % 26))
    if (!taken.has(name)) return name
  }
}

/**
 * Boards whose names are free beside those that are there.
 * @param {Board[]} boards
 * @param {{name: string}[]} there
 */
export function namedBeside(boards, there) {
  const taken = new Set(there.map((board) => board.name))
  return boards.map((board) => {
    let name = board.name
    for (let n = 2; taken.has(name); n += 1) name = `${board.name} ${n}`
    taken.add(name)
    return {...board, name}
  })
}

/**
 * A board that follows takes an empty width or length from the board before it; one from a document stands as it is.
 * @param {{name: string}[]} boards
 * @returns {Board}
 */
export function newBoard(boards, follows = true) {
  return {
    ...blank(BOARD_TEXTS),
    id: newId(),
    name: freeName(boards),
    follows,
    readings: [],
    places: [],
    spot: '',
    entry: '',
    extra: {},
  }
}

/** Nothing has been entered: there is nothing to ask the core about. @param {Draft} draft */
export function isBlank(draft) {
  return (
    !draft.boards.some(inLot) &&
    !pileBegun(draft) &&
    !Object.keys(draft.extra).length &&
    !draft.settings['target.thickness']
  )
}

/** A board just begun, without a reading, is not part of the lot yet. @param {Board} board */
export function inLot(board) {
  return board.readings.length > 0 || board.entry.trim() !== '' || !board.follows
}

/** @param {Draft} draft */
export function pileBegun(draft) {
  return PILE_KEYS.some((key) => draft.pile[key].trim() !== '')
}

/** @param {string} text */
function howMany(text) {
  return /^0*[1-9]\d*$/.test(text.trim()) ? Number(text) : NaN
}

/**
 * How many boards have been measured one by one, and how many are left to the pile's five numbers.
 * @param {Draft} draft
 */
export function tally(draft) {
  const measured = draft.boards.filter(inLot).reduce((sum, board) => sum + (howMany(board.count) || 1), 0)
  const total = draft.pile.count.trim() ? howMany(draft.pile.count) : pileBegun(draft) ? measured + 1 : measured
  return {measured, total, left: Number.isNaN(total) ? NaN : Math.max(0, total - measured)}
}

/**
 * What an empty width or length of a board stands for: the board before it, else the pile.
 * @param {Draft} draft
 * @param {number} index
 * @param {'width' | 'length'} key
 */
export function takenOver(draft, index, key) {
  if (!draft.boards[index]?.follows) return null
  for (let at = index - 1; at >= 0; at -= 1) {
    const board = draft.boards[at]
    if (board[key].trim()) return {text: board[key], from: board.name}
  }
  const text = key === 'width' ? draft.pile.widest : draft.pile.longest
  return text.trim() ? {text, from: 'the pile'} : null
}

/**
 * The wood that a board without one of its own is of: that of the board before it, else of the pile.
 * @param {Draft} draft
 * @param {number} index
 */
export function woodTakenOver(draft, index) {
  if (!draft.boards[index]?.follows) return null
  /** @param {Board | Pile} of */
  const known = ({species, density}) => species.trim() || density.trim()
  const from = known(draft.boards[index]) ? null : (draft.boards.slice(0, index).findLast(known) ?? draft.pile)
  return from && known(from) ? {species: from.species, density: from.density} : null
}

/**
 * Settings with bare figures read in `to`: each typed text keeps its meaning (see `restate`).
 * @param {Settings} settings
 * @param {Units} from
 * @param {Units} to
 */
export function settingsIn(settings, from, to) {
  /** @param {string} path @param {string} text */
  const said = (path, text) => {
    const kind = SETTINGS[path]?.kind
    if (kind === 'length') return restate(text, from, to)
    return kind === 'price' ? restatePrice(text, from, to) : text
  }
  return Object.fromEntries(Object.entries(settings).map(([path, text]) => [path, said(path, text)]))
}

/**
 * The same lot with bare figures read in `to`: each typed text keeps its meaning.
 * @param {Draft} draft
 * @param {Units} to
 */
export function withUnits(draft, to) {
  const from = draft.units
  const say = (/** @type {string} */ text) => restate(text, from, to)
  /** @param {unknown} value @returns {unknown} */
  const sayAny = (value) =>
    typeof value === 'string' || typeof value === 'number'
      ? say(String(value))
      : Array.isArray(value)
        ? value.map(sayAny)
        : value
  const pile = {...draft.pile}
  for (const key of PILE_TEXTS)
    if (PILE[key] === 'readings' || LENGTHS['boards[]'].includes(PILE[key])) pile[key] = say(pile[key])
  /** @param {Extra} thing @param {string[]} keys */
  const said = (thing, keys) => ({
    ...thing,
    ...Object.fromEntries(keys.filter((key) => key in thing).map((key) => [key, sayAny(thing[key])])),
  })
  /** @param {unknown} list @param {string[]} keys */
  const each = (list, keys) => (Array.isArray(list) ? list.map((one) => (isObject(one) ? said(one, keys) : one)) : list)
  const boards = draft.boards.map((board) => ({
    ...board,
    ...Object.fromEntries(
      BOARD_TEXTS.filter((key) => LENGTHS['boards[]'].includes(key)).map((key) => [key, say(board[key])]),
    ),
    readings: board.readings.map(say),
    entry: say(board.entry),
    extra:
      'defects' in board.extra
        ? {...board.extra, defects: each(board.extra.defects, LENGTHS['boards[].defects[]'])}
        : board.extra,
  }))
  const {units, ...extra} = draft.extra
  if ('parts' in extra) extra.parts = each(extra.parts, LENGTHS['parts[]'])
  if ('run' in extra) extra.run = each(extra.run, LENGTHS['run[]'])
  return {...draft, units: to, settings: settingsIn(draft.settings, from, to), pile, boards, extra}
}

/**
 * The lot in five numbers, as far as its boards were measured one by one; texts as typed, or null without boards.
 * @param {Draft} draft
 */
export function fiveNumbers(draft) {
  const boards = draft.boards.filter(inLot)
  if (!boards.length) return null
  const sorted = (/** @type {string[]} */ texts) =>
    texts
      .map((text) => ({mm: aboutMm(text, draft.units), text}))
      .filter(({mm}) => mm > 0)
      .sort((a, b) => b.mm - a.mm)
      .map(({text}) => text)
  const most = (/** @type {string[]} */ texts) => sorted(texts)[0] ?? ''
  const readings = sorted(boards.flatMap((board) => [...board.readings, board.entry]))
  return {
    thickest: readings[0] ?? '',
    thinnest: readings.at(-1) ?? '',
    count: String(tally(draft).measured),
    widest: most(boards.map((board) => board.width)),
    longest: most(boards.map((board) => board.length)),
  }
}

/** Whatever stands in a text's place, as a text. @param {unknown} value */
export const asText = (value) =>
  typeof value === 'string' ? value : value === null || value === undefined ? '' : JSON.stringify(value)
/** @param {unknown} value @returns {value is Record<string, unknown>} */
export const isObject = (value) => typeof value === 'object' && value !== null && !Array.isArray(value)

/**
 * Where each of some readings was taken: a text for each, empty where it is not known.
 * @param {unknown[]} readings
 * @param {unknown} places
 */
export const withPlaces = (readings, places) => readings.map((_, n) => (Array.isArray(places) ? asText(places[n]) : ''))

/** The finished parts that the lot is for, as typed. @param {Draft} draft */
export const partsOf = (draft) => (Array.isArray(draft.extra.parts) ? draft.extra.parts.filter(isObject) : [])

/** The draft with other parts. @param {Draft} draft @param {Part[]} parts */
export function withParts(draft, parts) {
  const {parts: _, ...extra} = draft.extra
  return {...draft, extra: parts.length ? {...extra, parts} : extra}
}

/** The bad stretches of the boards, as typed: [{board: its name, from, to}]. @param {Draft} draft */
export const defectsOf = (draft) =>
  draft.boards.flatMap(({name, extra}) =>
    Array.isArray(extra.defects)
      ? extra.defects.filter(isObject).map(({from, to}) => ({board: name, from: asText(from), to: asText(to)}))
      : [],
  )

/** The draft with other bad stretches. @param {Draft} draft @param {Defect[]} defects */
export function withDefects(draft, defects) {
  return {
    ...draft,
    boards: draft.boards.map((board) => {
      const mine = defects.filter((one) => one.board === board.name).map(({from, to}) => ({from, to}))
      const {defects: _, ...extra} = board.extra
      return {...board, extra: mine.length ? {...extra, defects: mine} : extra}
    }),
  }
}

/** What was learned of the planer, and the draft with another record of it, or none. @param {Draft} draft */
export function recordOf({extra: {planer}}) {
  return isObject(planer) ? /** @type {PlanerRecord | undefined} */ (planer.record) : undefined
}

/** @param {Draft} draft @param {PlanerRecord | null | undefined} record */
export function withRecord(draft, record) {
  const {planer, ...extra} = draft.extra
  const {record: _, ...rest} = isObject(planer) ? planer : {}
  const made = record ? {...rest, record} : rest
  return {...draft, extra: Object.keys(made).length ? {...extra, planer: made} : extra}
}

/** What was done, measured and seen at the machine, in order. @param {Draft} draft @returns {RunEvent[]} */
export const runOf = (draft) => (Array.isArray(draft.extra.run) ? draft.extra.run : [])

/**
 * The draft with another run; one that is begun anew has taught nothing.
 * @param {Draft} draft
 * @param {RunEvent[]} run
 */
export function withRun(draft, run) {
  const {run: _, ...extra} = draft.extra
  return {...draft, taught: draft.taught && run.length > 0, extra: run.length ? {...extra, run} : extra}
}
