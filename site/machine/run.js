// At the machine: the core's screen for the next thing to do. Its buttons carry the events that they add to the run.

import {$, $$, around, asCure, markWrong, say, sayProblem, seek} from '../base/dom.js'
import {goOn, told} from '../base/focus.js'
import {leadFromPicture} from '../base/lot_picture.js'
import {Awake} from './awake.js'

/** @import {Problem, RunEvent} from '../base/types.js' */
/**
 * `onMeasured` resolves to the problems of the texts, to none when they were taken, to null when something else came
 * between.
 * @typedef {object} Handlers
 * @property {(event: RunEvent) => void} onEvent this was done or seen
 * @property {(event: RunEvent) => Promise<Problem[] | null>} onMeasured this was measured
 * @property {() => void} onTold its problems stand at its fields
 * @property {() => void} onUndo the last of them was not
 * @property {(number: string) => void} onPass a pass of its picture was tapped
 * @property {() => RunEvent[]} runNow the run as it is
 * @property {() => string} inHand which job it is of
 * @property {(on: Element) => void} onNotTaken a tap came too late, for a screen that the run has left behind
 */

const WAITING = 'There is no plan yet: enter the lot first.'
/** The way back where the core has no screen for a run. */
const UNDO = '<div class="run-undo"><button type="button" data-undo>Undo: the last entry</button></div>'

/** How long a tap that counts is felt, where the device can [ms]. */
const FELT = 30

/** How long the core may take to say what Undo would take back [ms]. */
const NAMED_AFTER = 700

/** @param {HTMLElement} root @param {Handlers} handlers */
export const createRun = (root, handlers) => new RunScreen(root, handlers)

class RunScreen {
  #slot
  #handlers
  #awake = new Awake()
  /**
   * The run that the screen answers to. A tap on a screen that the run has left behind does nothing, but on the key of
   * another board of the same pass.
   * @type {string | null}
   */
  #shownOf = null
  /** An event was added since, and its screen is not there yet. */
  #ahead = false
  /** The job whose cautions were read here; a run without an event asks for it anew once the page is opened again. */
  #readOf = ''

  /** @param {HTMLElement} root @param {Handlers} handlers */
  constructor(root, handlers) {
    this.#slot = $('#at-machine', root)
    this.#handlers = handlers
    root.addEventListener('click', ({target}) => {
      const button = around(target, 'button', HTMLButtonElement)
      if (button && !button.disabled) this.#tapped(button)
    })
    // What is not right is read from its top, in place of the pass.
    this.#slot.addEventListener(
      'toggle',
      ({target}) => around(target, '.surprises') === target && window.scrollTo(0, 0),
      true,
    )
    leadFromPicture(this.#slot, {
      toBoard: (name) => {
        const key = $$('.feeding .ticks button', this.#slot).find((one) => one.dataset.of === name)
        key?.scrollIntoView({block: 'center'})
        key?.focus({preventScroll: true})
      },
      toPass: handlers.onPass,
    })
    // What was said of a text is not true of another.
    this.#slot.addEventListener('input', ({target}) => {
      sayAt(around(target, '[data-key]'), '')
    })
  }

  /** The screen is not that of the run as it is, and another one is on its way. @param {boolean} busy */
  set busy(busy) {
    this.#slot.ariaBusy = String(busy)
  }

  #now() {
    return JSON.stringify(this.#handlers.runNow())
  }

  /** @param {HTMLButtonElement} button */
  #tapped(button) {
    const fresh = this.#now() === this.#shownOf
    const {event} = button.dataset
    if ('begin' in button.dataset) this.#begin()
    else if ('undo' in button.dataset) {
      if (fresh || this.#ahead) this.#handlers.onUndo()
      else this.#handlers.onNotTaken(button)
      this.#ahead = false
    } else if (event && (fresh || this.#isOfSamePass(button))) this.#append(button, JSON.parse(event))
    else if (event) this.#handlers.onNotTaken(button)
    else if ('add' in button.dataset) this.#add(around(button, '[data-measure]'))
  }

  /** The cautions before the first feed are read: pass 1 stands there. */
  #begin() {
    this.#readOf = this.#handlers.inHand()
    this.#showBegun()
    toHeading(this.#slot)
    window.scrollTo(0, 0)
  }

  #showBegun() {
    const cautions = seek('.before-run', this.#slot)
    if (this.#readOf === this.#handlers.inHand()) cautions?.remove()
    this.#slot.toggleAttribute('data-due', seek('.before-run', this.#slot) !== null)
  }

  /** @param {HTMLButtonElement} button @param {RunEvent} event */
  #append(button, event) {
    this.#ahead = true
    if (isKey(button)) {
      button.setAttribute('aria-pressed', 'true')
      delete button.dataset.event
    } else button.classList.add('counted')
    navigator.vibrate?.(FELT)
    this.#handlers.onEvent(event)
    setTimeout(() => this.#nameUndo(), NAMED_AFTER)
  }

  /** Where the screen of what was done last keeps away, Undo says at least that it takes back this. */
  #nameUndo() {
    const undo = seek('[data-undo]', this.#slot, HTMLButtonElement)
    if (!this.#ahead || !undo) return
    undo.disabled = false
    say(undo, 'Undo: the last tap')
  }

  /**
   * The key of a board, while the run is ahead of the screen by keys of the same pass only.
   * @param {HTMLButtonElement} button
   */
  #isOfSamePass(button) {
    if (!isKey(button) || this.#shownOf === null) return false
    /** @type {RunEvent[]} */
    const shown = JSON.parse(this.#shownOf)
    const now = this.#handlers.runNow()
    const {setting} = JSON.parse(button.dataset.event ?? '{}')
    const ticked = now.slice(shown.length).every((one) => one.did === 'feed' && one.boards && one.setting === setting)
    return ticked && JSON.stringify(now.slice(0, shown.length)) === this.#shownOf
  }

  /**
   * Enter in a reading: on to the next one of the same measurement, else it is complete.
   * @param {HTMLInputElement} input
   */
  entered(input) {
    const measure = around(input, '[data-measure]')
    if (!measure) return
    const next = $$('input[data-key]', measure, HTMLInputElement).find((one) => one !== input && !one.value.trim())
    if (next) next.focus()
    else this.#add(measure)
  }

  /**
   * All readings of a measurement are in: it becomes an event, unless one of them cannot be read.
   * @param {HTMLElement | null} measure
   */
  async #add(measure) {
    if (!measure || this.#now() !== this.#shownOf) return
    const read = readingsIn(measure)
    if (!read) return
    const problems = await this.#handlers.onMeasured(read.event)
    if (!problems) return
    if (!problems.length) {
      // The screen that comes is gone on with at its heading.
      if (measure.contains(document.activeElement)) toHeading(this.#slot)
      return
    }
    for (const {at, text, short, cures} of problems) sayAt(read.inputs[at], short ?? text, cures)
    read.inputs[problems[0].at]?.focus()
    this.#handlers.onTold()
  }

  /**
   * `current`: it is the screen of the run as it is now.
   * @param {string} html
   * @param {Problem[]} [problems]
   * @param {boolean} [current]
   */
  paint(html, problems = [], current = true) {
    const slot = this.#slot
    this.#shownOf = current ? this.#now() : null
    this.#ahead = false
    this.busy = false
    const wayBack = problems.length && this.#handlers.runNow().length ? UNDO : ''
    const shown = html || `<p class="hint">${WAITING}</p>${wayBack}`
    for (const one of $$('.counted', slot)) one.classList.remove('counted')
    if (slot.dataset.painted === shown) return this.#showBegun()
    const begun = 'painted' in slot.dataset
    slot.dataset.painted = shown
    const before = placeIn(slot)
    const heard = heardIn(slot)
    const focused = slot.contains(document.activeElement)
    slot.innerHTML = shown
    this.#showBegun()
    // Never to a button: the Enter of a caliper that types would press it.
    if (focused) toHeading(slot)
    if (begun && this.#awake.wanted) tellNew(heard, heardIn(slot))
    if (begun && this.#awake.wanted) keepPlace(before, placeIn(slot))
    if (problems.length) say(seek('.hint', slot) ?? slot, problems.map(({text}) => text).join(' '))
  }

  /** @param {boolean} visible */
  show(visible) {
    this.#awake.wanted = visible
  }
}

/** Whether it is the key of a board in the pass. @param {HTMLButtonElement} button */
const isKey = (button) => button.matches('.feeding .ticks button')

/**
 * What is wrong with a reading, or '', is told at it.
 * @param {HTMLElement | null | undefined} input
 * @param {string} text
 * @param {string[]} [cures]
 */
function sayAt(input, text, cures = []) {
  const field = around(input ?? null, '.field')
  const problem = field && seek('.problem', field)
  if (!input || !problem) return
  sayProblem(
    problem,
    text,
    cures.map((cure) => asCure(cure)),
  )
  markWrong(input, problem, text !== '')
}

/**
 * The event of a measurement, and the input of each of its texts by its path; null, and told, while one is empty.
 * @param {HTMLElement} measure
 */
function readingsIn(measure) {
  /** @type {RunEvent} */
  const event = JSON.parse(measure.dataset.measure ?? '{}')
  /** @type {Record<string, HTMLInputElement | HTMLSelectElement | undefined>} */
  const inputs = {}
  for (const input of $$('[data-key]', measure)) {
    if (!(input instanceof HTMLInputElement || input instanceof HTMLSelectElement)) continue
    const text = input.value.trim()
    sayAt(input, text ? '' : 'Nothing is entered. Enter what was measured.')
    if (!text) {
      input.focus()
      return null
    }
    const key = input.dataset.key ?? ''
    if (key === 'readings') {
      event.readings = [...(event.readings ?? []), text]
      inputs[`event.readings[${event.readings.length - 1}]`] = input
    } else {
      event[key] = text
      inputs[`event.${key}`] = input
    }
  }
  return {event, inputs}
}

/**
 * Where the boards to feed stand on the screen, if they do, of which pass they are and what the planer is set to; `said` is
 * what came up above them.
 * @param {HTMLElement} slot
 */
function placeIn(slot) {
  const feeding = seek('.feeding', slot)
  return (
    feeding?.checkVisibility() && {
      pass: seek('.run-head', slot)?.textContent,
      set: seek('.set', slot)?.textContent,
      said: seek('.said', slot)?.textContent,
      feeding,
      top: feeding.getBoundingClientRect().top + Number.parseFloat(getComputedStyle(feeding).paddingTop),
    }
  )
}

/**
 * Boards of one pass are ticked off without the screen moving under the finger; whatever is new is read from its top.
 * @param {ReturnType<typeof placeIn>} before
 * @param {ReturnType<typeof placeIn>} after
 */
function keepPlace(before, after) {
  const same =
    before &&
    after &&
    before.pass === after.pass &&
    before.set === after.set &&
    (!after.said || before.said === after.said)
  if (!same) return window.scrollTo(0, 0)
  window.scrollBy(0, after.top - before.top)
  // What stood above them and is gone leaves its room, until the pass is over.
  const short = before.top - after.feeding.getBoundingClientRect().top
  if (short > 0) after.feeding.style.paddingTop = `${short}px`
}

/** What came of a reading, and advice. @param {HTMLElement} slot */
const heardIn = (slot) => $$('.said, .verdict', slot).map((one) => one.textContent ?? '')

/** What is new of it is said: the screen does not begin with it. @param {string[]} before @param {string[]} now */
function tellNew(before, now) {
  const fresh = now.filter((text) => !before.includes(text))
  if (fresh.length) told(fresh.join(' '))
}

/**
 * Whoever works without a pointer goes on at the top of the screen that came, and hears it.
 * @param {HTMLElement} slot
 */
const toHeading = (slot) => goOn($$('h2', slot).find((one) => one.offsetParent) ?? null)
