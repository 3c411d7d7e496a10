// The pad under the thumb: what is pressed stands in the field at once, a dark key enters and moves on, so a reading
// takes one to three taps. No key comes under the thumb in another's place.

import {figureParts, h, say} from '../base/dom.js'
import {figures, holds, laddered, ladderOf, placesFrom, placesNear, scaleAfter, scaleIn} from './pad_keys.js'

/** @import {Cure} from '../base/dom.js' */
/** @import {Scale, Units} from '../base/types.js' */
/** @import {Key, Kind, Ladder, Places} from './pad_keys.js' */
/**
 * The field that the pad is for. With a new `turn` the keys may come to lie elsewhere.
 * @typedef {object} Asked
 * @property {Kind} kind
 * @property {Units} units
 * @property {Scale} scale the finest mark to read
 * @property {number} near around which length the keys lie [mm, or boards]
 * @property {number} marked the last reading, or what is expected [mm]; 0 where there is none
 * @property {string} mark what is expected, as one tap enters it
 * @property {string} same what was measured last, as one tap enters it
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
 * @property {(cure: Cure) => void} onCure what is asked about is settled so
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
  near: 0,
  marked: 0,
  mark: '',
  same: '',
  text: '',
  label: '',
  keys: false,
  canTakeBack: false,
  inBoard: false,
  turn: '',
}
/** @type {Record<Scale, string>} */
const SAID = {
  digits: 'Digits',
  tenths: 'Tenths',
  thousandths: '0.001',
  fiftieths: '0.02',
  16: '16ths',
  32: '32nds',
  64: '64ths',
}
/** @type {Partial<Record<Scale, string>>} */
const READ = {tenths: '0.1 mm', thousandths: '0.001 inch', fiftieths: '0.02 mm'}

export class Pad {
  #root
  #handlers
  #asked = NOTHING
  /** What settles what is asked about the text. @type {Cure[]} */
  #doubted = []
  /** The keys that are there, as text. */
  #drawn = ''
  #drawnFoot = ''
  /** Where the keys of each ladder lie, by its name. @type {Map<string, Places>} */
  #places = new Map()

  #label = h('p', {class: 'pad-label'})
  #shown = h('p', {class: 'pad-text'})
  #scale = plain(() => this.#handlers.onScale(scaleAfter(this.#asked.scale, this.#asked.units, this.#asked.kind)))
  #switch = plain(() => this.#handlers.onKeys(!this.#asked.keys))
  #cures = h('div', {class: 'pad-cures', hidden: true})
  #keys = h('div', {class: 'keys'})
  #foot = h('div', {class: 'pad-foot'})

  /** @param {HTMLElement} root @param {Handlers} handlers */
  constructor(root, handlers) {
    this.#root = root
    this.#handlers = handlers
    const done = plain(() => handlers.onDone(), 'Done')
    root.append(
      this.#cures,
      h('div', {class: 'pad-head'}, h('div', {}, this.#label, this.#shown), this.#scale, this.#switch, done),
      this.#keys,
      this.#foot,
    )
    // The field keeps the focus, so that a keyboard or a caliper can go on typing.
    root.addEventListener('mousedown', (event) => event.preventDefault())
  }

  /** @param {Asked} next */
  show(next) {
    const ladder = ladderOf(next.kind, next.units, next.scale)
    if (ladder) {
      const there = this.#places.get(ladder.name)
      const turned = next.turn !== this.#asked.turn || next.scale !== this.#asked.scale
      if (!there || (turned && !holds(ladder, there, next.near)))
        this.#places.set(ladder.name, placesNear(ladder, next.near))
    }
    this.#asked = next
    this.#root.hidden = false
    document.documentElement.dataset.pad = next.keys ? 'keys' : 'pad'
    this.#draw(ladder)
  }

  /**
   * The text of the field is asked about: these settle that. They stand above the pad, and move none of its keys.
   * @param {Cure[]} cures
   */
  doubt(cures) {
    if (JSON.stringify(cures) === JSON.stringify(this.#doubted)) return
    this.#doubted = cures
    this.#cures.hidden = !cures.length
    this.#cures.replaceChildren(
      ...cures.map((cure) => button(cure.label, 'act strong', () => this.#handlers.onCure(cure))),
    )
  }

  /** Where it is on the screen. */
  box() {
    return this.#root.getBoundingClientRect()
  }

  hide() {
    this.#asked = NOTHING
    this.#root.hidden = true
    delete document.documentElement.dataset.pad
  }

  /** @param {Ladder | null} ladder */
  #draw(ladder) {
    const asked = this.#asked
    say(this.#label, asked.label)
    this.#shown.replaceChildren(...figureParts(asked.text || ' '))
    this.#drawSwitches()
    this.#root.classList.toggle('no-keys', asked.keys)
    const lines = asked.keys ? [] : this.#lines(ladder)
    this.#drawFoot()
    // Keys that stay are not made anew: a finger may be on one of them.
    const drawn = JSON.stringify([lines, ladder?.name])
    if (drawn === this.#drawn) return
    this.#drawn = drawn
    this.#keys.replaceChildren(
      ...lines.map(({columns, keys}) =>
        h(
          'div',
          {class: `line of-${columns}`},
          keys.map((one) => (one === 'gap' ? h('span') : this.#key(one, ladder))),
        ),
      ),
    )
  }

  /** @param {Ladder | null} ladder */
  #lines(ladder) {
    const {units, text, marked} = this.#asked
    const places = ladder && this.#places.get(ladder.name)
    return places ? laddered(ladder, places, text, units, marked) : figures(text, units)
  }

  #drawSwitches() {
    const {kind, units, keys} = this.#asked
    const scale = scaleIn(this.#asked.scale, units, kind)
    this.#scale.hidden = keys || !(kind === 'thickness' || kind === 'fine')
    say(this.#scale, SAID[scale])
    const reads = scale === 'digits' ? 'Type the digits' : `Read to ${READ[scale] ?? `1/${scale} inch`}`
    this.#scale.setAttribute('aria-label', `${SAID[scale]}. ${reads}. Change.`)
    say(this.#switch, keys ? 'Pad' : 'ABC')
    this.#switch.setAttribute('aria-label', keys ? 'Pad: use it' : 'ABC: use the keyboard')
  }

  /** What can be done stands at one place, whether it can be done now or not. */
  #drawFoot() {
    const {kind, canTakeBack, inBoard, mark, same} = this.#asked
    const drawn = JSON.stringify([kind === 'fine', canTakeBack, inBoard, mark, same])
    if (drawn === this.#drawnFoot) return
    this.#drawnFoot = drawn
    const {onEnter, onBack, onNext, onNextBoard} = this.#handlers
    const enters = (/** @type {string} */ said, /** @type {string} */ text) =>
      button(text ? `${said} ${text}` : said, 'act strong', () => onEnter(text), {disabled: !text})
    const next = button('Next', 'act', onNext)
    const keys = inBoard
      ? [
          button('Take back', 'act', onBack, {disabled: !canTakeBack}),
          next,
          button('Next board', 'act strong', onNextBoard),
        ]
      : kind === 'fine'
        ? [enters('On the mark', mark), enters('Same as the last', same), next]
        : [next]
    this.#foot.className = `pad-foot of-${keys.length}`
    this.#foot.replaceChildren(...keys)
  }

  /** @param {Key} key @param {Ladder | null} ladder */
  #key(key, ladder) {
    const {text, kind, does, extra} = key
    return button(
      text,
      text.length > 5 ? `${kind} long` : kind,
      () => {
        if ('enter' in does) return this.#handlers.onEnter(does.enter)
        const places = ladder && this.#places.get(ladder.name)
        if (places) this.#places.set(ladder.name, placesFrom(ladder, places, key))
        this.#handlers.onText(does.text)
      },
      extra,
    )
  }
}

/**
 * @param {string} text
 * @param {string} kind
 * @param {() => void} act
 * @param {import('../base/dom.js').Attributes} [extra]
 */
const button = (text, kind, act, extra = {}) =>
  h('button', {type: 'button', class: `key ${kind}`, tabindex: -1, onclick: act, ...extra}, figureParts(text))

/** @param {() => void} act @param {string} [text] */
const plain = (act, text = '') => h('button', {type: 'button', class: 'plain', onclick: act}, text)
