// The pad under the thumb. Readings: whole inches, eighths, then the reading itself near by; or tens, whole mm, tenths; or its digits.
// The last row of a reading's pad enters it and moves on, so a reading takes one to three taps.

import {figureParts, h, say} from '../base/dom.js'
import {inchText, mmText} from '../base/lengths.js'

const EIGHTHS = ['0', '1/8', '1/4', '3/8', '1/2', '5/8', '3/4', '7/8']
const FRACTIONS = {in: ['1/8', '1/4', '3/8', '1/2', '5/8', '3/4', '7/8']}
const SCALES = {64: 1, 32: 2, 16: 4}
/** What a reading is read to, one after the other: marks of the rule, or the digits of a digital caliper. */
const FINEST = {in: [16, 32, 64, 'digits'], mm: ['tenths', 'digits']}
const inUnits = (scale, units) => (FINEST[units].includes(scale) ? scale : units === 'mm' ? 'tenths' : 32)
/** No board is thicker [64ths]: the pad goes no further. */
const THICKEST = 10 * 64

/**
 * `onText(text)`: the text of the field becomes this. `onEnter(text)`: this is the reading, move on. `onNext()`: move on.
 * `onBack()`: take the last reading back. `onKeys(on)`: use the device's own keyboard or not. `onScale(scale)`: finest mark to read.
 * `onDone()`: put the pad away. `onNextBoard()`.
 */
export function createPad(root, handlers) {
  const label = h('p', {class: 'pad-label'})
  const shown = h('p', {class: 'pad-text'})
  const keysButton = h('button', {type: 'button', class: 'plain', onclick: () => handlers.onKeys(!asked.keys)})
  const doneButton = h('button', {type: 'button', class: 'plain', onclick: () => handlers.onDone()}, 'Done')
  const keys = h('div', {class: 'keys'})
  const foot = h('div', {class: 'pad-foot'})
  const scaleButton = h('button', {type: 'button', class: 'plain', onclick: () => handlers.onScale(nextScale())})
  root.append(
    h('div', {class: 'pad-head'}, h('div', {}, label, shown), scaleButton, keysButton, doneButton),
    keys,
    foot,
  )
  // The field keeps the focus, so that a keyboard or a caliper can go on typing.
  root.addEventListener('mousedown', (event) => event.preventDefault())

  let asked = {}
  let doubted = []
  let coarse = null
  let middle = null

  const key = (text, kind, act, extra = {}) =>
    h('button', {type: 'button', class: `key ${kind}`, tabindex: -1, onclick: act, ...extra}, figureParts(text))
  const row = (columns, items) => h('div', {class: `line of-${columns}`}, items)

  function choose(which, value) {
    if (which === 'coarse') {
      coarse = value
      middle = null
    } else {
      middle = value
    }
    draw()
  }

  function inches(last) {
    const near = Math.min(Math.max(1, Math.round((last / 25.4) * 64)), THICKEST)
    const step = SCALES[asked.scale] ?? 2
    const lastWhole = Math.floor(near / 64)
    const whole = coarse ?? lastWhole
    const firstWhole = Math.max(0, lastWhole - 2)
    const wholes = Array.from({length: 5}, (_, n) => firstWhole + n)
    let first = Math.floor(near / step) * step - 3 * step
    if (middle !== null) first = whole * 64 + middle * 8
    else if (coarse !== null) first = whole * 64
    if (first <= 0) first = step
    const ready = Array.from({length: 8}, (_, n) => first + n * step)
    const pressed = (on) => ({'aria-pressed': String(on)})
    return [
      row(
        5,
        wholes.map((n) =>
          key(`${n}`, 'coarse', () => choose('coarse', n), {...pressed(n === whole), 'aria-label': `${n} inches`}),
        ),
      ),
      row(
        4,
        EIGHTHS.map((text, n) => key(text, 'middle', () => choose('middle', n), pressed(n === middle))),
      ),
      row(
        4,
        ready.map((n) =>
          key(inchText(n), 'ready', () => handlers.onEnter(inchText(n)), {'data-last': n === near ? '' : null}),
        ),
      ),
    ]
  }

  function millimeters(last) {
    const near = Math.max(1, Math.round(last * 10))
    const lastTen = Math.floor(near / 100)
    const ten = coarse ?? lastTen
    const whole = middle ?? (coarse === null ? Math.floor(near / 10) : ten * 10)
    const firstTen = Math.max(0, lastTen - 2)
    const pressed = (on) => ({'aria-pressed': String(on)})
    const wholes = Array.from({length: 10}, (_, n) => ten * 10 + n)
    const tenths = Array.from({length: 10}, (_, n) => whole * 10 + n)
    return [
      row(
        5,
        Array.from({length: 5}, (_, n) => firstTen + n).map((n) =>
          key(`${n * 10}`, 'coarse', () => choose('coarse', n), {
            ...pressed(n === ten),
            'aria-label': `${n * 10} millimeters`,
          }),
        ),
      ),
      row(
        5,
        wholes.map((n) => key(`${n}`, 'middle', () => choose('middle', n), pressed(n === whole))),
      ),
      row(
        5,
        tenths.map((n) =>
          key(mmText(n), 'ready', () => handlers.onEnter(mmText(n)), {
            'data-last': n === near ? '' : null,
            disabled: n === 0,
          }),
        ),
      ),
    ]
  }

  function nextScale() {
    const scales = FINEST[asked.units]
    return scales[(scales.indexOf(inUnits(asked.scale, asked.units)) + 1) % scales.length]
  }

  function figures() {
    const add = (text) => () => handlers.onText(asked.text + text)
    const fraction = (text) => () =>
      handlers.onText(asked.text.trim() && !/\d\/\d+$/.test(asked.text) ? `${asked.text.trim()} ${text}` : text)
    const digit = (n) => key(`${n}`, 'middle', add(`${n}`))
    const fractions = (asked.kind !== 'count' && FRACTIONS[asked.units]) || []
    const back = key('⌫', 'middle', () => handlers.onText(asked.text.replace(/( ?\d\/\d+|.)$/u, '')), {
      'aria-label': 'Take back',
    })
    const point = asked.kind !== 'count' ? key('.', 'middle', add('.')) : h('span')
    const lines = [
      [digit(7), digit(8), digit(9)],
      [digit(4), digit(5), digit(6)],
      [digit(1), digit(2), digit(3)],
      [point, digit(0), back],
    ]
    if (!fractions.length) return lines.map((line) => row(3, line))
    const beside = [fractions.slice(0, 2), fractions.slice(2, 4), fractions.slice(4, 6), fractions.slice(6)]
    return lines.map((line, n) => row(5, [...line, ...beside[n].map((text) => key(text, 'middle', fraction(text)))]))
  }

  function draw() {
    const {kind, units, last} = asked
    say(label, asked.label)
    shown.replaceChildren(...figureParts(asked.text || ' '))
    const scale = inUnits(asked.scale, units)
    const digits = scale === 'digits'
    scaleButton.hidden = kind !== 'thickness' || asked.keys
    say(scaleButton, {digits: 'Digits', tenths: 'Tenths', 32: '32nds'}[scale] ?? `${scale}ths`)
    scaleButton.setAttribute(
      'aria-label',
      `${digits ? 'Type the digits' : `Read to ${units === 'mm' ? '0.1 mm' : `1/${scale} inch`}`}. Change.`,
    )
    say(keysButton, asked.keys ? 'Pad' : 'ABC')
    keysButton.setAttribute('aria-label', asked.keys ? 'Use the pad' : 'Use the keyboard')
    root.classList.toggle('no-keys', asked.keys)
    const rows = kind === 'thickness' && !digits ? (units === 'mm' ? millimeters(last) : inches(last)) : figures()
    keys.replaceChildren(...(asked.keys ? [] : rows))
    drawFoot()
  }

  function drawFoot() {
    foot.replaceChildren(
      ...[
        ...doubted.map((text) => key(text, 'act strong', () => handlers.onEnter(text))),
        asked.canTakeBack && key('Take back', 'act', () => handlers.onBack()),
        key('Next', 'act', () => handlers.onNext()),
        asked.inBoard && key('Next board', 'act strong', () => handlers.onNextBoard()),
      ].filter(Boolean),
    )
  }

  return {
    /**
     * Shows the pad for a field: {kind: 'thickness'|'figures'|'count', units, scale, last (mm), text, label, keys, canTakeBack, inBoard, turn}.
     * A new `turn` forgets what was half chosen.
     */
    show(next) {
      if (next.turn !== asked.turn) {
        coarse = null
        middle = null
      }
      asked = next
      root.hidden = false
      document.documentElement.dataset.pad = next.keys ? 'keys' : 'pad'
      draw()
    },
    /** The text of the field is asked about: these ways of writing it settle that. Nothing else of the pad is drawn anew under a finger. */
    doubt(texts) {
      if (texts.join() === doubted.join()) return
      doubted = texts
      drawFoot()
    },
    hide() {
      asked = {}
      root.hidden = true
      delete document.documentElement.dataset.pad
    },
    shown: () => !root.hidden,
  }
}
