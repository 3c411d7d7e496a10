// Which keys the pad shows. Readings: whole inches, eighths, then the reading itself near by; or tens, whole mm,
// tenths; or its digits.

import {inchText, mmText} from '../base/lengths.js'

/** @import {Attributes} from '../base/dom.js' */
/** @import {Scale, Units} from '../base/types.js' */
/**
 * `kind` is how it looks; a key either chooses (`coarse`, `middle`), enters a reading, or makes the text of the field
 * another.
 * @typedef {object} Key
 * @property {string} text
 * @property {'coarse' | 'middle' | 'ready'} kind
 * @property {{coarse: number} | {middle: number} | {enter: string} | {text: string}} does
 * @property {Attributes} [extra]
 */
/**
 * A row of keys, of so many columns; a gap is a place without one.
 * @typedef {{columns: number, keys: (Key | 'gap')[]}} Line
 */
/**
 * What was half chosen: the whole inches or tens of mm, then the eighths or mm.
 * @typedef {{coarse: number | null, middle: number | null}} Chosen
 */

const EIGHTHS = ['0', '1/8', '1/4', '3/8', '1/2', '5/8', '3/4', '7/8']
/** @type {Record<Units, string[]>} */
const FRACTIONS = {in: EIGHTHS.slice(1), mm: []}
/** @type {Partial<Record<Scale, number>>} */
const STEPS = {64: 1, 32: 2, 16: 4}
/**
 * What a reading is read to, one after the other: marks of the rule, or the digits of a digital caliper.
 * @type {Record<Units, Scale[]>}
 */
const FINEST = {in: [16, 32, 64, 'digits'], mm: ['tenths', 'digits']}
/** No board is thicker [64ths]: the pad goes no further. */
const THICKEST = 10 * 64

/** The finest mark in these units. @param {Scale} scale @param {Units} units @returns {Scale} */
export const scaleIn = (scale, units) => (FINEST[units].includes(scale) ? scale : units === 'mm' ? 'tenths' : 32)

/** @param {Scale} scale @param {Units} units */
export function scaleAfter(scale, units) {
  const scales = FINEST[units]
  return scales[(scales.indexOf(scaleIn(scale, units)) + 1) % scales.length]
}

/** @param {number} count @param {number} from @param {number} [step] */
const counted = (count, from, step = 1) => Array.from({length: count}, (_, n) => from + n * step)
/** @param {boolean} on */
const pressed = (on) => ({'aria-pressed': String(on)})

/** @param {number} last near which reading [mm] @param {Scale} scale @param {Chosen} chosen @returns {Line[]} */
export function inches(last, scale, {coarse, middle}) {
  const near = Math.min(Math.max(1, Math.round((last / 25.4) * 64)), THICKEST)
  const step = STEPS[scale] ?? 2
  const lastWhole = Math.floor(near / 64)
  const whole = coarse ?? lastWhole
  let first = Math.floor(near / step) * step - 3 * step
  if (middle !== null) first = whole * 64 + middle * 8
  else if (coarse !== null) first = whole * 64
  if (first <= 0) first = step
  return [
    {
      columns: 5,
      keys: counted(5, Math.max(0, lastWhole - 2)).map((n) => ({
        text: `${n}`,
        kind: 'coarse',
        does: {coarse: n},
        extra: {...pressed(n === whole), 'aria-label': `${n} inches`},
      })),
    },
    {
      columns: 4,
      keys: EIGHTHS.map((text, n) => ({text, kind: 'middle', does: {middle: n}, extra: pressed(n === middle)})),
    },
    {columns: 4, keys: counted(8, first, step).map((n) => ready(inchText(n), n === near))},
  ]
}

/** @param {number} last near which reading [mm] @param {Chosen} chosen @returns {Line[]} */
export function millimeters(last, {coarse, middle}) {
  const near = Math.max(1, Math.round(last * 10))
  const lastTen = Math.floor(near / 100)
  const ten = coarse ?? lastTen
  const whole = middle ?? (coarse === null ? Math.floor(near / 10) : ten * 10)
  return [
    {
      columns: 5,
      keys: counted(5, Math.max(0, lastTen - 2)).map((n) => ({
        text: `${n * 10}`,
        kind: 'coarse',
        does: {coarse: n},
        extra: {...pressed(n === ten), 'aria-label': `${n * 10} millimeters`},
      })),
    },
    {
      columns: 5,
      keys: counted(10, ten * 10).map((n) => ({
        text: `${n}`,
        kind: 'middle',
        does: {middle: n},
        extra: pressed(n === whole),
      })),
    },
    {columns: 5, keys: counted(10, whole * 10).map((n) => ready(mmText(n), n === near, n === 0))},
  ]
}

/**
 * A reading that one tap enters.
 * @param {string} text
 * @param {boolean} isLast
 * @param {boolean} [disabled]
 * @returns {Key}
 */
const ready = (text, isLast, disabled = false) => ({
  text,
  kind: 'ready',
  does: {enter: text},
  extra: {'data-last': isLast ? '' : null, disabled},
})

/**
 * Digits, with the fractions of an inch beside them; a count has neither these nor a point.
 * @param {string} text of the field
 * @param {'thickness' | 'figures' | 'count'} kind
 * @param {Units} units
 * @returns {Line[]}
 */
export function figures(text, kind, units) {
  const digits = (/** @type {number[]} */ ...all) => all.map((n) => typed(`${n}`, text + n))
  const taken = typed('⌫', text.replace(/( ?\d\/\d+|.)$/u, ''))
  const back = {...taken, extra: {...taken.extra, 'aria-label': 'Take back'}}
  const point = kind === 'count' ? /** @type {const} */ ('gap') : typed('.', `${text}.`)
  const lines = [digits(7, 8, 9), digits(4, 5, 6), digits(1, 2, 3), [point, ...digits(0), back]]
  const fractions = kind === 'count' ? [] : FRACTIONS[units]
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
