// The pad for the field that has the focus: shown with its text and near which reading, and typing into it.

import {boardIn, lastReading} from '../base/board_steps.js'
import {$, $$, afterTap, around, curesOf, seek} from '../base/dom.js'
import {goOn} from '../base/focus.js'
import {aboutMm} from '../base/lengths.js'
import {Pad} from './pad.js'
import {written} from './pad_keys.js'
import {textOf} from './texts.js'

/** @import {Cure} from '../base/dom.js' */
/** @import {Scale, State} from '../base/types.js' */
/** @import {Kind} from './pad_keys.js' */
/**
 * @typedef {object} Handlers
 * @property {(field: string, text: string) => void} onTyped the text of a field becomes this
 * @property {(field: string) => void} onEntered it is complete
 * @property {(field: HTMLElement, cure: Cure) => void} onCure what is asked about it is settled so
 * @property {() => void} onNextBoard
 * @property {() => void} onBack
 */

/** The field that has the focus, where the pad is for it. */
export const padded = () =>
  document.activeElement?.matches('[data-pad]') ? around(document.activeElement, '[data-field]') : null

/** @param {HTMLElement} field */
const inputIn = (field) => $('input', field, HTMLInputElement)
/** @param {HTMLElement} field */
const nameOf = (field) => field.dataset.field ?? ''
/** @param {HTMLInputElement} input @returns {Kind} */
const kindOf = ({dataset: {pad}}) => (pad === 'thickness' || pad === 'fine' || pad === 'count' ? pad : 'figures')

/**
 * The field over the pad; of a board, with the picture of it where that is unfolded; of what came out, with all that is
 * asked of the board; the target with the units, which are chosen before it.
 * @param {HTMLElement} field
 */
export function intoView(field) {
  const top = around(field, '.board-top, .of-three') ?? (nameOf(field) === 'target.thickness' ? $('#units') : null)
  if (top?.matches('.of-three')) return window.scrollTo(0, 0)
  if (top) (seek('#spots[open] .spots', top) ?? top).scrollIntoView({block: 'start'})
  else inputIn(field).scrollIntoView({block: 'center'})
}

export class UnderThumb {
  #root
  #state
  #onTyped
  #pad
  /**
   * The input that the pad is for, and how often that has changed: what was half chosen is forgotten with each.
   * @type {HTMLInputElement | null}
   */
  #input = null
  #turns = 0
  /** The field whose pad was put away, while it has the focus still. @type {Element | null} */
  #closed = null
  /** What a caliper reads to at the machine. @type {Scale} */
  #fine = 'thousandths'
  /** What was measured there last, of which job, and what was to come out [mm]. */
  #measured = {job: '', expected: 0, text: ''}

  /** @param {HTMLElement} root @param {HTMLElement} padRoot @param {State} state @param {Handlers} handlers */
  constructor(root, padRoot, state, {onTyped, onEntered, onCure, onNextBoard, onBack}) {
    this.#root = root
    this.#state = state
    this.#onTyped = onTyped
    const entered = () => {
      const field = padded()
      if (!field || inputIn(field).readOnly) return
      this.#keepMeasured(inputIn(field))
      onEntered(nameOf(field))
    }
    this.#pad = new Pad(padRoot, {
      onText: (text) => this.#put(text),
      onEnter: (text) => {
        this.#put(text)
        entered()
      },
      onCure(cure) {
        const field = padded()
        if (field) onCure(field, cure)
      },
      onNext: entered,
      onNextBoard,
      onBack,
      onKeys(keys) {
        state.turn({keys})
        const active = document.activeElement
        if (!(active instanceof HTMLElement)) return
        active.blur()
        active.focus()
      },
      onScale: (scale) => this.#toScale(scale),
      onDone: () => this.away(),
    })
    document.addEventListener('focusin', () => {
      this.#closed = null
      const field = padded()
      if (!field) return
      this.show()
      intoView(field)
      this.#abovePad(inputIn(field))
    })
    document.addEventListener('focusout', () => afterTap(() => this.show()))
    document.addEventListener('keydown', ({key}) => {
      if (key !== 'Escape' || !padded()) return
      this.#closed = document.activeElement
      this.show()
    })
    document.addEventListener('click', ({target}) => {
      if (target !== this.#closed) return
      this.#closed = null
      this.show()
    })
  }

  /** What is typed into is seen: at large text the pad takes more of the screen than the page keeps free. @param {HTMLElement} input */
  #abovePad(input) {
    const [field, pad] = [input.getBoundingClientRect(), this.#pad.box()]
    if (field.right > pad.left && field.bottom > pad.top) window.scrollBy(0, field.bottom - pad.top + 8)
  }

  /** The field is left, and the pad goes with it; whoever works without a pointer goes on from there. */
  away() {
    const field = padded()
    if (field) goOn(field)
    else if (document.activeElement?.matches('input, select, textarea')) goOn(around(document.activeElement, '.field'))
    this.#pad.hide()
  }

  /** The pad types into the field that has the focus. @param {string} text */
  #put(text) {
    const field = padded()
    if (field) this.put(field, text)
  }

  /** A text comes into a field, unless it is being taken just now. @param {HTMLElement} field @param {string} text */
  put(field, text) {
    const input = inputIn(field)
    if (input.readOnly) return
    if (nameOf(field).startsWith('run.')) {
      input.value = text
      input.dispatchEvent(new Event('input', {bubbles: true}))
    } else this.#onTyped(nameOf(field), text)
    input.setSelectionRange(text.length, text.length)
  }

  /** @param {HTMLInputElement} input */
  #keepMeasured(input) {
    const text = input.value.trim()
    const expected = Number(input.dataset.nearMm)
    if (kindOf(input) === 'fine' && aboutMm(text, this.#state.draft.units) > 0)
      this.#measured = {job: this.#state.draft.id, expected, text}
  }

  /** @param {Scale} scale */
  #toScale(scale) {
    const field = padded()
    if (!field || kindOf(inputIn(field)) !== 'fine') return this.#state.turn({scale})
    this.#fine = scale
    this.show()
  }

  show() {
    const {draft, hand, keys, scale} = this.#state
    const {units} = draft
    this.#setInputModes()
    const field = padded()
    if (!field || document.activeElement === this.#closed) return this.#pad.hide()
    const input = inputIn(field)
    const name = nameOf(field)
    const board = boardIn(draft, hand)
    const inBoard = name.startsWith('board.')
    const readings = name === 'board.entry' ? board.readings.length : 0
    if (this.#input !== input) {
      this.#input = input
      this.#turns += 1
    }
    const kind = kindOf(input)
    const text = textOf(this.#state, name) ?? input.value
    const expected = kind === 'fine' ? Number(input.dataset.nearMm) : 0
    this.#pad.show({
      kind,
      units,
      scale: kind === 'fine' ? this.#fine : scale,
      keys,
      text,
      near: kind === 'count' ? Number(text) || 1 : this.#nearFor(name, input),
      marked: expected || this.#lastFor(name),
      mark: expected > 0 ? written(expected, units) : '',
      same: this.#measured.job === draft.id && this.#measured.expected === expected ? this.#measured.text : '',
      label: `${inBoard ? `${board.name} · ` : ''}${$('label', field).textContent}`,
      canTakeBack: readings > 0,
      inBoard,
      turn: `${this.#turns} ${hand.board} ${hand.chosen}`,
    })
    this.showDoubt()
  }

  /** Where the device's own keyboard stays away, and what it looks like where it does not. */
  #setInputModes() {
    const {draft, keys} = this.#state
    for (const input of $$('[data-pad]', this.#root, HTMLInputElement)) {
      const decimal = draft.units === 'mm' || input.dataset.pad === 'count'
      input.inputMode = !keys ? 'none' : decimal ? 'decimal' : 'text'
    }
  }

  /** The last reading of the boards, where the field is for the next one [mm]. @param {string} field */
  #lastFor(field) {
    const {draft, hand} = this.#state
    const mm = (/** @type {string} */ text) => aboutMm(text, draft.units)
    const last = field === 'board.entry' ? lastReading(draft, hand, (text) => mm(text) > 0) : null
    return last === null ? 0 : mm(last)
  }

  /**
   * Where the keys lie: at the field's own text, else near the last reading; a first reading lies above the target. A
   * target itself is looked for among the readings to come, so that the keys can stay for these.
   * @param {string} field
   * @param {HTMLInputElement} input
   */
  #nearFor(field, input) {
    const {draft} = this.#state
    const mm = (/** @type {string | undefined} */ text) => aboutMm(text ?? '', draft.units)
    const run = field.startsWith('run.')
    const own = mm(run ? input.value : textOf(this.#state, field))
    if (own > 0) return own
    if (run) return Number(input.dataset.nearMm)
    if (field === 'target.thickness') return draft.units === 'mm' ? 20 : 22.225
    const last = this.#lastFor(field)
    if (last) return last
    const target = mm(draft.settings['target.thickness'])
    const ofPile = [draft.pile.thickest, draft.pile.thinnest].map(mm).find((value) => value > 0)
    return ofPile ?? (target > 0 ? target + 3.175 : 25.4)
  }

  /** A text that is asked about, as a length of an unusual size: the pad has the core's cures. */
  showDoubt() {
    const field = padded()
    const problem = field && seek('.problem', field)
    this.#pad.doubt(problem ? curesOf(problem) : [])
  }
}
