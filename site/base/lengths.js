// Lengths, only as far as the pad and the ways in need them. What a length really means is the core's to say.

/** @import {Units} from './types.js' */

/** @type {Record<string, string>} */
const VULGAR = {
  '¼': '1/4',
  '½': '1/2',
  '¾': '3/4',
  '⅛': '1/8',
  '⅜': '3/8',
  '⅝': '5/8',
  '⅞': '7/8',
  '⅓': '1/3',
  '⅔': '2/3',
}
const UNIT_END = /(?<![a-z])\s*(inches|inch|in\.?|["″”“]|''|mm|cm|ft|feet|foot|m|['′’])$/i
/** @type {Record<string, number>} */
const MM_OF = {in: 25.4, mm: 1, cm: 10, ft: 304.8, m: 1000}

/** @param {string} mark */
function unitName(mark) {
  const word = mark.toLowerCase().replace('.', '')
  if (['inches', 'inch', 'in', '"', '″', '”', '“', "''"].includes(word)) return 'in'
  if (['feet', 'foot', 'ft', "'", '′', '’'].includes(word)) return 'ft'
  return word
}

/** The unit written at the end of a text ('in', 'mm', ...), or '' when there is none. @param {string} text */
export function unitOf(text) {
  const found = UNIT_END.exec(String(text).trim())
  return found ? unitName(found[1]) : ''
}

/** The text without its unit. @param {string} text */
export function withoutUnit(text) {
  return String(text).trim().replace(UNIT_END, '').trim()
}

/** @param {string} text */
function figure(text) {
  const plain = text
    .replace(/\s*([¼½¾⅛⅜⅝⅞⅓⅔])/g, (_, mark) => ` ${VULGAR[mark]}`)
    .replace('⁄', '/')
    .replace(/[−–—]/g, '-')
    .trim()
  const mixed = /^(?:(\d+)(?:\s+|\s*-\s*))?(\d+)\s*\/\s*(\d+)$/.exec(plain)
  if (mixed) return Number(mixed[3]) ? Number(mixed[1] ?? 0) + Number(mixed[2]) / Number(mixed[3]) : NaN
  return /^(\d+([.,]\d*)?|[.,]\d+)$/.test(plain) ? Number(plain.replace(',', '.')) : NaN
}

/** The text with its unit, which is that of the job where it names none. @param {string} text @param {Units} units */
export const withUnit = (text, units) => (unitOf(text) ? text : `${text} ${units}`)

/** About how many mm a text means, or NaN; a bare figure is in `units`. @param {string} text @param {string} units */
export function aboutMm(text, units) {
  const unit = unitOf(text) || units
  return figure(withoutUnit(text)) * (MM_OF[unit] ?? NaN)
}

/** 64ths of an inch as a mixed fraction: 70 -> "1 3/32". @param {number} sixtyFourths */
export function inchText(sixtyFourths) {
  const whole = Math.floor(sixtyFourths / 64)
  let part = sixtyFourths - whole * 64
  let under = 64
  while (part && part % 2 === 0) {
    part /= 2
    under /= 2
  }
  if (!part) return String(whole)
  return whole ? `${whole} ${part}/${under}` : `${part}/${under}`
}

/** Tenths of a mm: 278 -> "27.8". @param {number} tenths */
export function mmText(tenths) {
  return tenths % 10 ? (tenths / 10).toFixed(1) : String(tenths / 10)
}

/**
 * The same length said in a page that now reads bare figures in `to`: a bare figure gets the unit it was typed in,
 * a figure already in `to` loses its unit. Never a conversion, so nothing is rounded and the way back is exact.
 * @param {string} text
 * @param {Units} from
 * @param {Units} to
 */
export function restate(text, from, to) {
  const typed = String(text).trim()
  if (!typed || from === to) return text
  const unit = unitOf(typed)
  if (unit === to) return withoutUnit(typed)
  if (unit || Number.isNaN(figure(typed))) return text
  return `${typed} ${from}`
}

/** What a price of wood without more words is for. */
const PER = {in: 'per board foot', mm: 'per m3'}

/**
 * The same price of wood in a page that now reads bare figures in `to`, by the same rule as a length.
 * @param {string} text
 * @param {Units} from
 * @param {Units} to
 */
export function restatePrice(text, from, to) {
  const typed = String(text).trim()
  if (!typed || from === to) return text
  if (typed.endsWith(PER[to])) return typed.slice(0, -PER[to].length).trim()
  return Number.isNaN(figure(typed)) ? text : `${typed} ${PER[from]}`
}
