// Which keys the pad shows. Light keys fill the field: the coarse ones, then those between. A dark key enters what
// stands on it and moves on. Keys keep their places until a light key, another scale or another field asks for others.

import {aboutMm, inchText, mmText} from '../base/lengths.js'

/** @import {Attributes} from '../base/dom.js' */
/** @import {Scale, Units} from '../base/types.js' */
/** @typedef {'thickness' | 'fine' | 'figures' | 'count'} Kind */
/**
 * `kind` is how it looks; a key either enters a text, or makes the text of the field another; `from` is then where the
 * finer keys begin [steps].
 * @typedef {object} Key
 * @property {string} text
 * @property {'coarse' | 'middle' | 'ready'} kind
 * @property {{enter: string} | {text: string, from?: number}} does
 * @property {Attributes} [extra]
 */
/**
 * A row of keys, of so many columns; a gap is a place without one.
 * @typedef {{columns: number, keys: (Key | 'gap')[]}} Line
 */
/**
 * How the keys of a pad name what is entered: in steps of a size [mm, or one board], of which each kind of key counts
 * so many.
 * @typedef {object} Ladder
 * @property {string} name
 * @property {number} size
 * @property {number} coarse
 * @property {number} least the first of the coarse keys there may be
 * @property {number} middle 0: there are none
 * @property {number} fine
 * @property {number} many how many of the fine ones
 * @property {(steps: number, kind: Key['kind']) => string} text
 */
/**
 * The first key of each kind [steps].
 * @typedef {{coarse: number, middle: number, fine: number}} Places
 */

const QUARTERS = [1, 2, 3]
/** @type {Record<Units, string[]>} */
const FRACTIONS = {in: ['1/8', '1/4', '3/8', '1/2', '5/8', '3/4', '7/8'], mm: []}
/** @type {Partial<Record<Scale, number>>} */
const STEPS = {64: 1, 32: 2, 16: 4}
/**
 * What is read to, one after the other: marks of the rule, or the digits of a digital caliper. At the machine a caliper
 * comes first.
 * @type {Record<'thickness' | 'fine', Record<Units, Scale[]>>}
 */
const FINEST = {
  thickness: {in: [16, 32, 64, 'digits'], mm: ['tenths', 'digits']},
  fine: {in: ['thousandths', 16, 32, 64, 'digits'], mm: ['fiftieths', 'tenths', 'digits']},
}
/** No board is thicker [mm]: the keys that are offered go no further. */
const THICKEST = 254
const COLUMNS = 6
/** So near to a mark of the rule [64ths] a length is said as that mark: 0.0003 in are under what a caliper reads. */
const CLOSE = 0.02

/** @param {Kind} kind @param {Units} units */
const scalesOf = (kind, units) => FINEST[kind === 'fine' ? 'fine' : 'thickness'][units]

/** The finest mark in these units. @param {Scale} scale @param {Units} units @param {Kind} [kind] @returns {Scale} */
export function scaleIn(scale, units, kind = 'thickness') {
  const scales = scalesOf(kind, units)
  if (scales.includes(scale)) return scale
  return kind === 'fine' || units === 'mm' ? scales[0] : 32
}

/** @param {Scale} scale @param {Units} units @param {Kind} [kind] */
export function scaleAfter(scale, units, kind = 'thickness') {
  const scales = scalesOf(kind, units)
  return scales[(scales.indexOf(scaleIn(scale, units, kind)) + 1) % scales.length]
}

/**
 * How the keys of a pad name what is entered; null where it is typed figure by figure.
 * @param {Kind} kind
 * @param {Units} units
 * @param {Scale} scale
 * @returns {Ladder | null}
 */
export function ladderOf(kind, units, scale) {
  if (kind === 'count')
    return {name: 'count', size: 1, coarse: 20, least: 1, middle: 0, fine: 1, many: 24, text: (n) => `${n}`}
  if (kind === 'figures') return null
  const finest = scaleIn(scale, units, kind)
  if (finest === 'digits') return null
  const name = `${kind} ${units} ${finest}`
  const twelfths = {name, least: 1, many: 12}
  if (finest === 'thousandths') {
    const decimals = {coarse: 1, middle: 2, ready: 3}
    const text = (/** @type {number} */ n, /** @type {Key['kind']} */ of) => (n / 1000).toFixed(decimals[of])
    return {...twelfths, size: 0.0254, coarse: 100, middle: 10, fine: 1, text}
  }
  if (finest === 'fiftieths') {
    const decimals = {coarse: 0, middle: 1, ready: 2}
    const text = (/** @type {number} */ n, /** @type {Key['kind']} */ of) => (n / 50).toFixed(decimals[of])
    return {...twelfths, size: 0.02, coarse: 50, middle: 5, fine: 1, text}
  }
  if (finest === 'tenths')
    return {...twelfths, size: 0.1, coarse: 100, least: 0, middle: 10, fine: 1, text: (n) => mmText(n)}
  return {
    name,
    size: 25.4 / 64,
    coarse: 64,
    least: 1,
    middle: 16,
    fine: STEPS[finest] ?? 2,
    many: 18,
    text: (n) => inchText(n),
  }
}

/** @param {Ladder} ladder @param {number} near [mm, or boards] */
const stepsOf = ({size}, near) => Math.max(1, Math.round(Math.min(near || 0, THICKEST) / size))

/** Where the keys begin: those near a length lie on both sides of it. @param {Ladder} ladder @param {number} near @returns {Places} */
export function placesNear(ladder, near) {
  const {coarse, least, middle, fine, many} = ladder
  const at = stepsOf(ladder, near)
  return {
    coarse: Math.max(least, Math.floor(at / coarse) - COLUMNS / 2) * coarse,
    middle: Math.max(1, Math.floor(at / (middle || 1)) - COLUMNS + 1) * middle,
    fine: Math.max(1, Math.floor(at / fine) - Math.ceil(many / 2) + 1) * fine,
  }
}

/** The fine keys have this length among them, or lie around it. @param {Ladder} ladder @param {Places} places @param {number} near */
export function holds(ladder, {fine}, near) {
  const at = stepsOf(ladder, near)
  return at >= fine && at < fine + ladder.many * ladder.fine
}

/** A light key was pressed: the finer ones begin there. @param {Ladder} ladder @param {Places} places @param {Key} key @returns {Places} */
export function placesFrom({middle}, places, {kind, does}) {
  if (!('text' in does) || does.from === undefined) return places
  const {from} = does
  return {...places, fine: from, middle: kind === 'coarse' ? Math.max(from, middle) : places.middle}
}

/** @param {number} count @param {number} from @param {number} step */
const counted = (count, from, step) => Array.from({length: count}, (_, n) => from + n * step)
/** @param {boolean} on */
const pressed = (on) => ({'aria-pressed': String(on)})

/**
 * The keys of a ladder from these places on. `text` stands in the field; the dark key of `marked` [mm] is marked: the
 * last reading, or what is expected.
 * @param {Ladder} ladder
 * @param {Places} places
 * @param {string} text
 * @param {Units} units
 * @param {number} marked
 * @returns {Line[]}
 */
export function laddered(ladder, places, text, units, marked) {
  const {coarse, middle, fine, many, size} = ladder
  const filling = (/** @type {number} */ steps, /** @type {'coarse' | 'middle'} */ kind) =>
    fills(ladder, steps, kind, text)
  const middles = middle ? counted(2 * COLUMNS, places.middle, middle).map((steps) => filling(steps, 'middle')) : []
  const inQuarters = middle === 16 && size > 0.1
  const mark = marked > 0 ? Math.round(marked / size) : 0
  return [
    ...rows(
      counted(COLUMNS, places.coarse, coarse).map((steps) =>
        inQuarters ? whole(steps, text, units) : filling(steps || middle, 'coarse'),
      ),
    ),
    ...(inQuarters ? [{columns: QUARTERS.length, keys: QUARTERS.map((n) => quarter(n, text, units))}] : rows(middles)),
    ...rows(counted(many, places.fine, fine).map((steps) => ready(ladder.text(steps, 'ready'), steps === mark))),
  ]
}

/** @param {Key[]} keys @returns {Line[]} */
const rows = (keys) =>
  counted(Math.ceil(keys.length / COLUMNS), 0, COLUMNS).map((from) => ({
    columns: COLUMNS,
    keys: keys.slice(from, from + COLUMNS),
  }))

/** @param {Ladder} ladder @param {number} steps @param {'coarse' | 'middle'} kind @param {string} text @returns {Key} */
function fills(ladder, steps, kind, text) {
  const said = ladder.text(steps, kind)
  return {text: said, kind, does: {text: said, from: steps}, extra: pressed(text === said)}
}

/**
 * The whole inches and the quarters that the text of a field says, and nothing finer; null where it says anything else.
 * @param {string} text
 * @param {Units} units
 */
function composed(text, units) {
  const quarters = aboutMm(text, units) / 6.35
  return Math.abs(quarters - Math.round(quarters)) < 1e-6
    ? {whole: Math.floor(Math.round(quarters) / 4), quarter: Math.round(quarters) % 4}
    : null
}

/** @param {number} steps @param {string} text @param {Units} units @returns {Key} */
function whole(steps, text, units) {
  const inches = steps / 64
  return {
    text: `${inches}`,
    kind: 'coarse',
    does: {text: `${inches}`, from: steps},
    extra: {
      ...pressed(composed(text, units)?.whole === inches),
      'aria-label': inches === 1 ? '1 inch' : `${inches} inches`,
    },
  }
}

/** A quarter goes to the whole inches that are pressed. @param {number} n @param {string} text @param {Units} units @returns {Key} */
function quarter(n, text, units) {
  const there = composed(text, units)
  const steps = 64 * (there?.whole ?? 0) + 16 * n
  return {
    text: inchText(16 * n),
    kind: 'middle',
    does: {text: inchText(steps), from: steps},
    extra: pressed(there?.quarter === n),
  }
}

/** What one tap enters. @param {string} text @param {boolean} marked @returns {Key} */
const ready = (text, marked) => ({
  text,
  kind: 'ready',
  does: {enter: text},
  extra: {'data-marked': marked ? '' : null},
})

/**
 * Digits, with the fractions of an inch beside them.
 * @param {string} text of the field
 * @param {Units} units
 * @returns {Line[]}
 */
export function figures(text, units) {
  const digits = (/** @type {number[]} */ ...all) => all.map((n) => typed(`${n}`, text + n))
  const taken = typed('⌫', text.replace(/( ?\d\/\d+|.)$/u, ''))
  const back = {...taken, extra: {...taken.extra, 'aria-label': 'Take back'}}
  const lines = [digits(7, 8, 9), digits(4, 5, 6), digits(1, 2, 3), [typed('.', `${text}.`), ...digits(0), back]]
  const fractions = FRACTIONS[units]
  if (!fractions.length) return lines.map((keys) => ({columns: 3, keys}))
  return lines.map((keys, n) => ({
    columns: 5,
    keys: [
      ...keys,
      ...fractions.slice(2 * n, 2 * n + 2).map((fraction) => typed(fraction, withFraction(text, fraction))),
    ],
  }))
}

/** A key that makes the text of the field another. @param {string} text @param {string} made @returns {Key} */
const typed = (text, made) => ({text, kind: 'middle', does: {text: made}, extra: {'data-repeats': ''}})

/**
 * A text with its fraction; one that has a fraction already gives way.
 * @param {string} text
 * @param {string} fraction
 */
const withFraction = (text, fraction) =>
  text.trim() && !/\d\/\d+$/.test(text) ? `${text.trim()} ${fraction}` : fraction

/**
 * A length as one would write it: a mark of the rule where it is one, else its decimals.
 * @param {number} mm
 * @param {Units} units
 */
export function written(mm, units) {
  if (units === 'mm') return String(Number(mm.toFixed(2)))
  const marks = (mm / 25.4) * 64
  return Math.abs(marks - Math.round(marks)) < CLOSE
    ? inchText(Math.round(marks))
    : String(Number((mm / 25.4).toFixed(4)))
}
