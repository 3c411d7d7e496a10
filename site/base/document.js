// The job document: made from a draft, and a draft made from it. What the page has no field for is carried along untouched.

import {aboutMm} from './lengths.js'
import {
  asText,
  inLot,
  isObject,
  newBoard,
  newDraft,
  newId,
  PILE_NAME,
  pileBegun,
  SETTINGS,
  takenOver,
  tally,
  withPlaces,
  woodTakenOver,
} from './job.js'

const GROUPS = ['target', 'planer', 'practice', 'cutting', 'rates', 'service', 'shop']
const BOARD_TEXTS = ['name', 'width', 'length', 'count', 'species', 'density']

const copied = (extra) => (Object.keys(extra).length ? structuredClone(extra) : {})

function asNumber(text) {
  const plain = text.trim().replace(',', '.')
  return /^-?\d+(\.\d+)?$/.test(plain) ? Number(plain) : text
}

/**
 * The job document, and where each field of the page stands in it.
 * Returns {job, places}: `places` is a list of [field key, path]; keys are "target.thickness", "pile.thickest", "b:ID.width",
 * "b:ID.readings.0", "b:ID.entry", "b:ID".
 */
export function toDocument(draft) {
  const places = []
  const job = {thickset: 1, ...copied(draft.extra)}
  job.units ??= draft.units
  places.push(['title', 'title'], ['units', 'units'])
  if (draft.title.trim()) job.title = draft.title
  addSettings(job, draft, places)
  const boards = []
  addPile(boards, draft, places)
  draft.boards.forEach((board, index) => inLot(board) && addBoard(boards, draft, index, places))
  if (boards.length || !('boards' in job)) job.boards = boards
  return {job, places}
}

function addSettings(job, draft, places) {
  for (const [path, kind] of Object.entries(SETTINGS)) {
    const text = draft.settings[path] ?? ''
    const feed = /^planer\.feeds\[(\d)\]$/.exec(path)
    if (feed) continue
    places.push([path, path])
    if (!text.trim()) continue
    const keys = path.split('.')
    let inside = job
    for (const key of keys.slice(0, -1)) {
      if (typeof inside[key] !== 'object' || inside[key] === null) inside[key] = {}
      inside = inside[key]
    }
    inside[keys.at(-1)] = kind === 'number' || kind === 'price' ? asNumber(text) : text
  }
  const feeds = []
  for (let n = 0; n < 4; n += 1) {
    const text = draft.settings[`planer.feeds[${n}]`] ?? ''
    if (!text.trim()) continue
    places.push([`planer.feeds[${n}]`, `planer.feeds[${feeds.length}]`])
    feeds.push(text)
  }
  if (feeds.length) (job.planer ??= {}).feeds = feeds
  if (typeof job.target !== 'object' || job.target === null) job.target = {}
}

function addPile(boards, draft, places) {
  const {pile} = draft
  const {left} = tally(draft)
  const at = `boards[${boards.length}]`
  if (!pileBegun(draft) || left === 0) return
  const readings = []
  for (const key of ['thickest', 'thinnest']) {
    places.push([`pile.${key}`, `${at}.readings[${readings.length}]`])
    if (pile[key].trim()) readings.push(pile[key])
  }
  places.push(
    ['pile', at],
    ['pile.count', `${at}.count`],
    ['pile.widest', `${at}.width`],
    ['pile.longest', `${at}.length`],
    ['pile.species', `${at}.species`],
    ['pile.density', `${at}.density`],
  )
  const entry = {name: pile.name, readings, width: pile.widest, length: pile.longest}
  if (pile.count.trim()) entry.count = Number.isNaN(left) ? pile.count : left
  for (const key of ['species', 'density']) if (pile[key].trim()) entry[key] = pile[key]
  boards.push(entry)
}

function addBoard(boards, draft, index, places) {
  const board = draft.boards[index]
  const at = `boards[${boards.length}]`
  const key = `b:${board.id}`
  const readings = [...board.readings]
  readings.forEach((_, n) => places.push([`${key}.readings.${n}`, `${at}.readings[${n}]`]))
  places.push([`${key}.entry`, `${at}.readings[${readings.length}]`], [key, at])
  for (const name of BOARD_TEXTS) places.push([`${key}.${name}`, `${at}.${name}`])
  if (board.entry.trim()) readings.push(board.entry)
  const spots = withPlaces(readings, [...withPlaces(board.readings, board.places), board.spot])
  spots.forEach((_, n) => places.push([`${key}.places.${n}`, `${at}.places[${n}]`]))
  const entry = {...copied(board.extra), name: board.name, readings}
  if (spots.some(Boolean)) entry.places = spots
  for (const name of ['width', 'length'])
    entry[name] = board[name].trim() ? board[name] : (takenOver(draft, index, name)?.text ?? '')
  const wood = woodTakenOver(draft, index) ?? board
  if (wood.species.trim()) entry.species = wood.species
  if (wood.density.trim()) entry.density = wood.density
  if (board.count.trim()) entry.count = asNumber(board.count)
  boards.push(entry)
}

/** A draft from a job document. What the page has no field for is kept in `extra`, so that the core can name it. */
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

function takeSettings(extra, draft) {
  if (isObject(extra.planer) && Array.isArray(extra.planer.feeds) && extra.planer.feeds.length <= 4) {
    extra.planer.feeds.forEach((feed, n) => {
      draft.settings[`planer.feeds[${n}]`] = asText(feed)
    })
    delete extra.planer.feeds
  }
  for (const path of Object.keys(SETTINGS)) {
    const keys = path.split('.')
    const last = keys.pop()
    const inside = keys.reduce((at, key) => (isObject(at) ? at[key] : undefined), extra)
    if (!isObject(inside) || !(last in inside)) continue
    draft.settings[path] = asText(inside[last])
    delete inside[last]
  }
  for (const path of ['planer.head', 'planer.known_cut', 'planer.snipe', ...GROUPS]) {
    const keys = path.split('.')
    const last = keys.pop()
    const inside = keys.reduce((at, key) => (isObject(at) ? at[key] : undefined), extra)
    if (isObject(inside) && isObject(inside[last]) && !Object.keys(inside[last]).length) delete inside[last]
  }
}

function takeBoards(extra, draft) {
  const sound =
    Array.isArray(extra.boards) &&
    extra.boards.every((board) => isObject(board) && (board.readings === undefined || Array.isArray(board.readings)))
  if (!sound) return
  for (const entry of extra.boards) {
    const {name, readings = [], width = '', length = '', count = '', species = '', density = '', ...rest} = entry
    const texts = readings.map(asText)
    const placed =
      Array.isArray(rest.places) &&
      rest.places.length <= texts.length &&
      rest.places.every((place) => typeof place === 'string')
    const places = withPlaces(texts, placed ? rest.places : [])
    if (placed) delete rest.places
    const asPile =
      !pileBegun(draft) &&
      texts.length === 2 &&
      !Object.keys(rest).length &&
      !places.some(Boolean) &&
      (name === PILE_NAME || (extra.boards.length === 1 && Number(count) > 1))
    if (asPile) {
      const [first, second] = texts
      const turned = aboutMm(first, draft.units) < aboutMm(second, draft.units)
      Object.assign(draft.pile, {
        name: typeof name === 'string' && name.trim() ? name : PILE_NAME,
        thickest: turned ? second : first,
        thinnest: turned ? first : second,
        count: asText(count),
        widest: asText(width),
        longest: asText(length),
        species: asText(species),
        density: asText(density),
      })
    } else {
      const board = newBoard(draft.boards, false)
      const keep = name === undefined ? {} : {name: asText(name)}
      draft.boards.push({
        ...board,
        ...keep,
        readings: texts,
        places,
        width: asText(width),
        length: asText(length),
        count: asText(count),
        species: asText(species),
        density: asText(density),
        extra: rest,
      })
    }
  }
  // The page counts the whole lot; a document counts only what is left in the pile.
  if (/^\d+$/.test(draft.pile.count)) draft.pile.count = String(Number(draft.pile.count) + tally(draft).measured)
  delete extra.boards
}
