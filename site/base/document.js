// The job document: made from a draft, and a draft made from it. What the page has no field for is carried along
// untouched.

import {BOARD_TEXTS, PILE, PILE_TEXTS, SETTINGS} from './fields.js'
import {
  asText,
  inLot,
  isObject,
  newBoard,
  newDraft,
  newId,
  PILE_NAME,
  pileBegun,
  takenOver,
  tally,
  withPlaces,
  woodTakenOver,
} from './job.js'
import {aboutMm} from './lengths.js'

/** @import {BoardText, Draft, Extra, JobDocument, Place} from './types.js' */

/** A planer has several feeds, each a text of its own on the page. */
const FEEDS = Object.keys(SETTINGS).filter((path) => path.startsWith('planer.feeds['))
/** The parts of a document that settings stand in, inner ones before those around them. */
const GROUPS = [
  ...new Set(Object.keys(SETTINGS).flatMap((path) => [...path.matchAll(/\./g)].map(({index}) => path.slice(0, index)))),
].sort((a, b) => b.length - a.length)

/** @param {Extra} extra */
const copied = (extra) => (Object.keys(extra).length ? structuredClone(extra) : {})

/** @param {string} text */
function asNumber(text) {
  const plain = text.trim().replace(',', '.')
  return /^-?\d+(\.\d+)?$/.test(plain) ? Number(plain) : text
}

/**
 * The job document, and where each field of the page stands in it.
 * Returns {job, places}: `places` is a list of [field key, path]; keys are "target.thickness", "pile.thickest",
 * "b:ID.width", "b:ID.readings.0", "b:ID.entry", "b:ID".
 * @param {Draft} draft
 */
export function toDocument(draft) {
  /** @type {Place[]} */
  const places = []
  /** @type {JobDocument} */
  const job = {thickset: 1, ...copied(draft.extra)}
  job.units ??= draft.units
  places.push(['title', 'title'], ['units', 'units'])
  if (draft.title.trim()) job.title = draft.title
  addSettings(job, draft, places)
  /** @type {JobDocument[]} */
  const boards = []
  addPile(boards, draft, places)
  draft.boards.forEach((board, index) => {
    if (inLot(board)) addBoard(boards, draft, index, places)
  })
  if (boards.length || !('boards' in job)) job.boards = boards
  return {job, places}
}

/** @param {JobDocument} job @param {Draft} draft @param {Place[]} places */
function addSettings(job, draft, places) {
  for (const [path, {kind}] of Object.entries(SETTINGS)) {
    const text = draft.settings[path] ?? ''
    if (FEEDS.includes(path)) continue
    places.push([path, path])
    if (!text.trim()) continue
    const [groups, last] = parted(path)
    let inside = job
    for (const key of groups) inside = groupOf(inside, key)
    inside[last] = kind === 'number' || kind === 'price' ? asNumber(text) : text
  }
  const feeds = []
  for (const path of FEEDS) {
    const text = draft.settings[path] ?? ''
    if (!text.trim()) continue
    places.push([path, `planer.feeds[${feeds.length}]`])
    feeds.push(text)
  }
  if (feeds.length) groupOf(job, 'planer').feeds = feeds
  groupOf(job, 'target')
}

/** The keys that lead to a setting, and its own. @param {string} path @returns {[string[], string]} */
function parted(path) {
  const keys = path.split('.')
  return [keys.slice(0, -1), keys[keys.length - 1]]
}

/**
 * What stands in a document at this key, made where nothing does.
 * @param {JobDocument} inside
 * @param {string} key
 * @returns {JobDocument}
 */
function groupOf(inside, key) {
  if (typeof inside[key] !== 'object' || inside[key] === null) inside[key] = {}
  return /** @type {JobDocument} */ (inside[key])
}

/** What the last of these keys stands in, where something does. @param {Extra} extra @param {string[]} keys */
const insideOf = (extra, keys) =>
  keys.reduce((/** @type {unknown} */ at, key) => (isObject(at) ? at[key] : undefined), extra)

/** @param {JobDocument[]} boards @param {Draft} draft @param {Place[]} places */
function addPile(boards, draft, places) {
  const {pile} = draft
  const {left} = tally(draft)
  const at = `boards[${boards.length}]`
  if (!pileBegun(draft) || left === 0) return
  const readings = []
  for (const key of PILE_TEXTS.filter((one) => PILE[one] === 'readings')) {
    places.push([`pile.${key}`, `${at}.readings[${readings.length}]`])
    if (pile[key].trim()) readings.push(pile[key])
  }
  places.push(['pile', at])
  /** @type {JobDocument} */
  const entry = {name: pile.name, readings, width: '', length: ''}
  for (const key of PILE_TEXTS) {
    const of = PILE[key]
    if (of === 'readings') continue
    places.push([`pile.${key}`, `${at}.${of}`])
    if (pile[key].trim()) entry[of] = of === 'count' && !Number.isNaN(left) ? left : pile[key]
  }
  boards.push(entry)
}

/** @param {JobDocument[]} boards @param {Draft} draft @param {number} index @param {Place[]} places */
function addBoard(boards, draft, index, places) {
  const board = draft.boards[index]
  const at = `boards[${boards.length}]`
  const key = `b:${board.id}`
  const readings = [...board.readings]
  for (const n of readings.keys()) places.push([`${key}.readings.${n}`, `${at}.readings[${n}]`])
  places.push([`${key}.entry`, `${at}.readings[${readings.length}]`], [key, at])
  for (const name of BOARD_TEXTS) places.push([`${key}.${name}`, `${at}.${name}`])
  if (board.entry.trim()) readings.push(board.entry)
  const spots = withPlaces(readings, [...withPlaces(board.readings, board.places), board.spot])
  for (const n of spots.keys()) places.push([`${key}.places.${n}`, `${at}.places[${n}]`])
  /** @type {JobDocument} */
  const entry = {...copied(board.extra), name: board.name, readings}
  if (spots.some(Boolean)) entry.places = spots
  const own = {...board, ...woodTakenOver(draft, index)}
  for (const name of /** @type {const} */ (['width', 'length']))
    if (!own[name].trim()) entry[name] = own[name] = takenOver(draft, index, name)?.text ?? ''
  for (const name of BOARD_TEXTS) if (own[name].trim()) entry[name] = name === 'count' ? asNumber(own[name]) : own[name]
  boards.push(entry)
}

/**
 * A draft from a job document. What the page has no field for is kept in `extra`, so that the core can name it.
 * @param {JobDocument} job
 * @param {string} [id]
 */
export function fromDocument(job, id = newId()) {
  const draft = newDraft(job.units === 'mm' ? 'mm' : 'in', id)
  const extra = structuredClone(job)
  if (extra.thickset === 1) delete extra.thickset
  else extra.thickset ??= null
  if (extra.units === 'in' || extra.units === 'mm') delete extra.units
  if (typeof extra.title === 'string') {
    draft.title = extra.title
    delete extra.title
  }
  takeSettings(extra, draft)
  takeBoards(extra, draft)
  draft.extra = extra
  return draft
}

/** @param {Extra} extra @param {Draft} draft */
function takeSettings(extra, draft) {
  if (isObject(extra.planer) && Array.isArray(extra.planer.feeds) && extra.planer.feeds.length <= FEEDS.length) {
    extra.planer.feeds.forEach((feed, n) => {
      draft.settings[FEEDS[n]] = asText(feed)
    })
    delete extra.planer.feeds
  }
  for (const path of Object.keys(SETTINGS)) {
    const [groups, last] = parted(path)
    const inside = insideOf(extra, groups)
    if (!isObject(inside) || !(last in inside)) continue
    draft.settings[path] = asText(inside[last])
    delete inside[last]
  }
  for (const path of GROUPS) {
    const [groups, last] = parted(path)
    const inside = insideOf(extra, groups)
    if (isObject(inside) && isObject(inside[last]) && !Object.keys(inside[last]).length) delete inside[last]
  }
}

/** @param {Extra} extra @param {Draft} draft */
function takeBoards(extra, draft) {
  const {boards} = extra
  const sound =
    Array.isArray(boards) &&
    boards.every((board) => isObject(board) && (board.readings === undefined || Array.isArray(board.readings)))
  if (!sound) return
  for (const entry of boards) {
    const {readings = [], ...rest} = entry
    const known = BOARD_TEXTS.filter((key) => key in rest)
    /** @type {Partial<Record<BoardText, string>>} */
    const said = Object.fromEntries(known.map((key) => [key, asText(rest[key])]))
    for (const key of known) delete rest[key]
    /** @type {string[]} */
    const texts = readings.map(asText)
    const placed =
      Array.isArray(rest.places) &&
      rest.places.length <= texts.length &&
      rest.places.every((/** @type {unknown} */ place) => typeof place === 'string')
    const places = withPlaces(texts, placed ? rest.places : [])
    if (placed) delete rest.places
    const asPile =
      !pileBegun(draft) &&
      texts.length === 2 &&
      !Object.keys(rest).length &&
      !places.some(Boolean) &&
      (entry.name === PILE_NAME || (boards.length === 1 && Number(entry.count) > 1))
    if (asPile) {
      const [first, second] = texts
      const turned = aboutMm(first, draft.units) < aboutMm(second, draft.units)
      for (const key of PILE_TEXTS) {
        const of = PILE[key]
        if (of !== 'readings') draft.pile[key] = said[of] ?? ''
      }
      Object.assign(draft.pile, {
        name: typeof entry.name === 'string' && entry.name.trim() ? entry.name : PILE_NAME,
        thickest: turned ? second : first,
        thinnest: turned ? first : second,
      })
    } else {
      draft.boards.push({...newBoard(draft.boards, false), ...said, readings: texts, places, extra: rest})
    }
  }
  // The page counts the whole lot; a document counts only what is left in the pile.
  if (/^\d+$/.test(draft.pile.count)) draft.pile.count = String(Number(draft.pile.count) + tally(draft).measured)
  delete extra.boards
}
