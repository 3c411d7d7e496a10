// A second tap at one place does nothing: what a hand does twice by accident is done once, and is seen to be.

import {around, h, say} from './dom.js'

/** How soon [ms] and how near [px] after a tap that was taken another is its second. */
const SOON = 700
const NEAR = 30
/**
 * Where a second tap could enter, move on, tick, delete or undo; what comes there counts by its place, painted anew or
 * not.
 */
const GUARDED = [
  '#run, #pad, #undo, #rehearse, .job-more, #snipe, #book',
  ...['copy-board', 'delete-board', 'learn', 'new-knives', 'next-board', 'own-lot', 'take-today', 'split-job'].map(
    (act) => `[data-do="${act}"]`,
  ),
].join()
const CONTROLS = 'button, summary, a, dialog'
const FIELDS = 'input, select, label'
const PADDED = '[data-pad]'
const TAPPED = `${CONTROLS}, ${FIELDS}`
/** A click that follows from one on a label comes at once [ms]; no hand is as quick. */
const AT_ONCE = 20
/** Keys that are meant to be tapped again and again: the digits of a number. */
const REPEATS = '[data-repeats]'
/** Where an Enter counts however the field is called that comes to hand: readings. */
const READINGS = '#run input, #finals input, [data-pad="thickness"]'
const SHOWN = 900

/** @typedef {{at: number, x: number, y: number, key: string, byHand: boolean, field: boolean, repeats: boolean, guarded: boolean}} Tap */

/** What a control is, painted anew or not: an Undo stays one, whatever it would take back. @param {Element} control */
function keyOf(control) {
  const {id, localName, className} = control
  const data = control instanceof HTMLElement ? Object.keys(control.dataset) : []
  return [id, localName, className, ...data, data.includes('undo') ? '' : control.textContent].join('\n')
}

export class Taps {
  /** The last tap that was taken. @type {Tap | null} */
  #last = null
  /** The last Enter that was taken, with nothing typed since. @type {{at: number, in: EventTarget | null} | null} */
  #enter = null
  #timer = 0
  #words = h('span')
  #ring = h('div', {id: 'tapped-twice', role: 'status'}, this.#words)

  constructor() {
    document.body.append(this.#ring)
    document.addEventListener('click', (event) => this.#tapped(event), true)
    document.addEventListener('mousedown', (event) => this.#down(event), true)
    document.addEventListener('keydown', (event) => this.#pressed(event), true)
    document.addEventListener('input', () => {
      this.#enter = null
    })
  }

  /** @param {MouseEvent} event */
  #tapped(event) {
    const on = around(event.target, TAPPED, Element)
    if (!on) return
    const tap = tapOn(on, event)
    if (this.#isSecond(tap)) this.#refuse(event, on)
    else {
      this.#last = tap
      rests(tap.at)
    }
  }

  /**
   * Nor does what came under the thumb take the focus, be it a field or bare ground. A field with a pad is tapped once it
   * is pressed: the pad comes under the thumb before the click does.
   * @param {MouseEvent} event
   */
  #down(event) {
    if (!(event.target instanceof Element)) return
    const on = around(event.target, TAPPED, Element) ?? event.target
    const tap = tapOn(on, event)
    if (this.#isSecond(tap)) event.preventDefault()
    else if (on.matches(PADDED)) {
      this.#last = {...tap, guarded: true}
      rests(tap.at)
    }
  }

  /** @param {Tap} tap */
  #isSecond(tap) {
    const last = this.#last
    if (!last || tap.at - last.at >= SOON || !(last.guarded || tap.guarded)) return false
    if (last.repeats && tap.repeats) return false
    if (tap.field && (tap.key === last.key || tap.at - last.at < AT_ONCE)) return false
    if (!tap.byHand || !last.byHand) return tap.key === last.key
    return Math.hypot(tap.x - last.x, tap.y - last.y) <= NEAR
  }

  /** @param {KeyboardEvent} event */
  #pressed(event) {
    if (event.key !== 'Enter' || event.isComposing || !(event.target instanceof HTMLElement)) return
    const {target} = event
    if (!target.matches(`${READINGS}, [data-pad]`) && !target.closest(GUARDED)) return
    const last = this.#enter
    const soon = last !== null && event.timeStamp - last.at < SOON
    const again = soon && target instanceof HTMLInputElement && (last.in === target || target.matches(READINGS))
    if (event.repeat || again) this.#refuse(event, target)
    else if (target instanceof HTMLInputElement) {
      this.#enter = {at: event.timeStamp, in: target}
      rests(event.timeStamp)
    }
  }

  /** @param {Event} event @param {Element} on */
  #refuse(event, on) {
    event.preventDefault()
    event.stopImmediatePropagation()
    const words = 'Tapped twice: taken once'
    if (event instanceof MouseEvent && event.detail > 0) this.#nudge(event.clientX, event.clientY, words)
    else this.nudgeOn(on, words)
  }

  /** That something was not taken is seen where it was tapped. @param {Element} on @param {string} words */
  nudgeOn(on, words) {
    const {left, top, width, height} = on.getBoundingClientRect()
    this.#nudge(left + width / 2, top + height / 2, words)
  }

  /** @param {number} x @param {number} y @param {string} words */
  #nudge(x, y, words) {
    const ring = this.#ring
    ring.style.left = `${x}px`
    ring.style.top = `${y}px`
    ring.classList.toggle('at-right', x > innerWidth / 2)
    ring.dataset.shown = ''
    say(this.#words, words)
    clearTimeout(this.#timer)
    this.#timer = setTimeout(() => {
      delete ring.dataset.shown
      say(this.#words, '')
    }, SHOWN)
  }
}

/** @param {Element} on @param {MouseEvent} event @returns {Tap} */
const tapOn = (on, event) => ({
  at: event.timeStamp,
  x: event.clientX,
  y: event.clientY,
  key: keyOf(on),
  byHand: event.detail > 0,
  field: on.matches(FIELDS),
  repeats: on.matches(REPEATS),
  guarded: on.closest(GUARDED) !== null,
})

/** As long as a second tap or Enter might not be taken, the page says so. @param {number} at */
function rests(at) {
  const {dataset} = document.documentElement
  const mark = String(at)
  dataset.tapped = mark
  setTimeout(() => {
    if (dataset.tapped === mark) delete dataset.tapped
  }, SOON)
}
