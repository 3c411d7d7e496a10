// The pad under the thumb. The last row of a reading's pad enters it and moves on, so a reading takes one to three
// taps.

import {figureParts, h, say} from '../base/dom.js'
import {figures, inches, millimeters, scaleAfter, scaleIn} from './pad_keys.js'

/** @import {Attributes} from '../base/dom.js' */
/** @import {Scale, Units} from '../base/types.js' */
/** @import {Key} from './pad_keys.js' */
/**
 * The field that the pad is for. A new `turn` forgets what was half chosen.
 * @typedef {object} Asked
 * @property {'thickness' | 'figures' | 'count'} kind
 * @property {Units} units
 * @property {Scale} scale the finest mark to read
 * @property {number} last near which reading the keys lie [mm]
 * @property {string} text
 * @property {string} label
 * @property {boolean} keys the device's own keyboard is used
 * @property {boolean} canTakeBack
 * @property {boolean} inBoard
 * @property {string} turn
 */
/**
 * @typedef {object} Handlers
 * @property {(text: string) => void} onText the text of the field becomes this
 * @property {(text: string) => void} onEnter this is the reading, move on
 * @property {() => void} onNext move on
 * @property {() => void} onNextBoard
 * @property {() => void} onBack take the last reading back
 * @property {(on: boolean) => void} onKeys use the device's own keyboard or not
 * @property {(scale: Scale) => void} onScale
 * @property {() => void} onDone put the pad away
 */

/** What the pad is asked for while it is away. @type {Asked} */
const NOTHING = {
  kind: 'figures',
  units: 'in',
  scale: 32,
  last: 0,
  text: '',
  label: '',
  keys: false,
  canTakeBack: false,
  inBoard: false,
  turn: '',
}

export class Pad {
  #root
  #handlers
  #asked = NOTHING
  /** Ways of writing the text that settle what is asked about it. @type {string[]} */
  #doubted = []
  /** @type {number | null} */
  #coarse = null
  /** @type {number | null} */
  #middle = null

  #label = h('p', {class: 'pad-label'})
  #shown = h('p', {class: 'pad-text'})
  #scale = plain(() => this.#handlers.onScale(scaleAfter(this.#asked.scale, this.#asked.units)))
  #switch = plain(() => this.#handlers.onKeys(!this.#asked.keys))
  #keys = h('div', {class: 'keys'})
  #foot = h('div', {class: 'pad-foot'})

  /** @param {HTMLElement} root @param {Handlers} handlers */
  constructor(root, handlers) {
    this.#root = root
    this.#handlers = handlers
    const done = plain(() => handlers.onDone(), 'Done')
    root.append(
      h('div', {class: 'pad-head'}, h('div', {}, this.#label, this.#shown), this.#scale, this.#switch, done),
      this.#keys,
      this.#foot,
    )
    // The field keeps the focus, so that a keyboard or a caliper can go on typing.
    root.addEventListener('mousedown', (event) => event.preventDefault())
  }

  /** @param {Asked} next */
  show(next) {
    if (next.turn !== this.#asked.turn) {
      this.#coarse = null
      this.#middle = null
    }
    this.#asked = next
    this.#root.hidden = false
    document.documentElement.dataset.pad = next.keys ? 'keys' : 'pad'
    this.#draw()
  }

  /**
   * The text of the field is asked about: these ways of writing it settle that. Nothing else of the pad is drawn anew
   * under a finger.
   * @param {string[]} texts
   */
  doubt(texts) {
    if (texts.join() === this.#doubted.join()) return
    this.#doubted = texts
    this.#drawFoot()
  }

  hide() {
    this.#asked = NOTHING
    this.#root.hidden = true
    delete document.documentElement.dataset.pad
  }

  #draw() {
    const asked = this.#asked
    say(this.#label, asked.label)
    this.#shown.replaceChildren(...figureParts(asked.text || ' '))
    this.#drawSwitches()
    this.#root.classList.toggle('no-keys', asked.keys)
    const lines = asked.keys ? [] : this.#lines()
    this.#keys.replaceChildren(
      ...lines.map(({columns, keys}) =>
        h(
          'div',
          {class: `line of-${columns}`},
          keys.map((one) => (one === 'gap' ? h('span') : this.#key(one))),
        ),
      ),
    )
    this.#drawFoot()
  }

  #lines() {
    const {kind, units, last, text, scale} = this.#asked
    const chosen = {coarse: this.#coarse, middle: this.#middle}
    const finest = scaleIn(scale, units)
    if (kind !== 'thickness' || finest === 'digits') return figures(text, kind, units)
    return units === 'mm' ? millimeters(last, chosen) : inches(last, scale, chosen)
  }

  #drawSwitches() {
    const {kind, units, keys} = this.#asked
    const scale = scaleIn(this.#asked.scale, units)
    const read = units === 'mm' ? '0.1 mm' : `1/${scale} inch`
    this.#scale.hidden = kind !== 'thickness' || keys
    say(this.#scale, {digits: 'Digits', tenths: 'Tenths', 16: '16ths', 32: '32nds', 64: '64ths'}[scale])
    this.#scale.setAttribute('aria-label', `${scale === 'digits' ? 'Type the digits' : `Read to ${read}`}. Change.`)
    say(this.#switch, keys ? 'Pad' : 'ABC')
    this.#switch.setAttribute('aria-label', keys ? 'Use the pad' : 'Use the keyboard')
  }

  #drawFoot() {
    const {canTakeBack, inBoard} = this.#asked
    const {onEnter, onBack, onNext, onNextBoard} = this.#handlers
    const keys = [
      ...this.#doubted.map((text) => button(text, 'act strong', () => onEnter(text))),
      canTakeBack && button('Take back', 'act', () => onBack()),
      button('Next', 'act', () => onNext()),
      inBoard && button('Next board', 'act strong', () => onNextBoard()),
    ]
    this.#foot.replaceChildren(...keys.filter((one) => one !== false))
  }

  /** @param {Key} key */
  #key({text, kind, does, extra}) {
    return button(
      text,
      kind,
      () => {
        if ('enter' in does) this.#handlers.onEnter(does.enter)
        else if ('text' in does) this.#handlers.onText(does.text)
        else this.#choose(does)
      },
      extra,
    )
  }

  /** @param {{coarse: number} | {middle: number}} choice */
  #choose(choice) {
    if ('coarse' in choice) {
      this.#coarse = choice.coarse
      this.#middle = null
    } else this.#middle = choice.middle
    this.#draw()
  }
}

/** @param {string} text @param {string} kind @param {() => void} act @param {Attributes} [extra] */
const button = (text, kind, act, extra = {}) =>
  h('button', {type: 'button', class: `key ${kind}`, tabindex: -1, onclick: act, ...extra}, figureParts(text))

/** @param {() => void} act @param {string} [text] */
const plain = (act, text = '') => h('button', {type: 'button', class: 'plain', onclick: act}, text)
