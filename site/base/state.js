// What the page is about right now: the job as entered (the draft), the board in hand, and where the person is.
// Everything that changes them goes through here, is stored, and is told to whoever listens.

import {settled} from './board_steps.js'
import {fromDocument} from './document.js'
import {isBlank, newId, pileBegun} from './job.js'
import {isSameLot, takenBack} from './taking_back.js'

/** @import {Draft, Hand, JobDocument, Scale, Snapshot, Store, Units, View, Way, WayBack} from './types.js' */

/** @type {readonly unknown[]} */
const VIEWS = ['lot', 'planer', 'plan', 'jobs', 'run', 'more']
/** @type {readonly unknown[]} */
const SCALES = [16, 32, 64, 'tenths', 'digits']

/** Five numbers of the whole pile, or board by board. @param {Draft} draft @returns {Way} */
const wayOf = (draft) => (pileBegun(draft) || !draft.boards.some((board) => board.readings.length) ? 'pile' : 'boards')

export class State {
  #store
  #demo
  #onChange

  /**
   * `demo` is {in: document, mm: document}; `onChange(what)` is told 'draft', 'units' or 'ui' after each change.
   * @param {Store} store
   * @param {Partial<Record<Units, JobDocument | null>>} demo
   * @param {(what: 'draft' | 'ui') => void} onChange
   */
  constructor(store, demo, onChange) {
    this.#store = store
    this.#demo = demo
    this.#onChange = onChange
    const held = store.now()
    const {draft, hand} = settled(
      (typeof held.job === 'string' && held.job !== 'example' && store.job(held.job)) ||
        this.#example(held.units === 'mm' ? 'mm' : 'in'),
      {board: typeof held.board === 'string' ? held.board : '', chosen: null},
    )
    this.draft = draft
    this.hand = hand
    this.view = /** @type {View} */ (VIEWS.includes(held.view) ? held.view : 'plan')
    /** @type {Way} */
    this.way = held.way === 'pile' || held.way === 'boards' ? held.way : wayOf(draft)
    /** The device's own keyboard is used. */
    this.keys = Boolean(held.keys ?? !window.matchMedia('(pointer: coarse), (max-width: 700px)').matches)
    this.scale = /** @type {Scale} */ (SCALES.includes(held.scale) ? held.scale : 32)
    /** Goes up when another job comes to hand. */
    this.opened = 0
    /** Another tab works on the job in hand, and this one only shows it. */
    this.follows = false
  }

  /**
   * The draft becomes this. The example itself never changes: what is made of it is a job of one's own.
   * @param {Draft} draft
   * @param {Hand} [hand]
   */
  change(draft, hand) {
    if (this.follows) return this.#onChange('ui')
    const own =
      draft.example && draft !== this.draft
        ? {...draft, example: false, id: newId(), title: `${draft.title}, changed`}
        : draft
    this.#hold({...own, touched: Date.now()}, hand)
    this.#store.keepJob(this.draft)
    this.#keepNow()
    this.#onChange('draft')
  }

  /**
   * What the run of a job taught stands in the book of its planer now, or no more.
   * @param {string} id
   * @param {boolean} taught
   */
  teach(id, taught) {
    const draft = id === this.draft.id ? this.draft : this.#store.job(id)
    if (!draft || draft.taught === taught) return
    if (id === this.draft.id) this.#hold({...draft, taught})
    this.#store.keepJob({...draft, taught})
  }

  /**
   * Another board or reading comes to hand, another part into view, ...: nothing of the draft changes.
   * @param {Partial<Pick<State, 'hand' | 'view' | 'way' | 'keys' | 'scale'>>} changes
   */
  turn(changes) {
    Object.assign(this, changes)
    this.#hold(this.draft)
    this.#keepNow()
    this.#onChange('ui')
  }

  /**
   * Another job is opened: the draft is taken as it is.
   * @param {Draft} draft
   * @param {Partial<Pick<State, 'view' | 'way'>>} [changes]
   */
  open(draft, changes = {}) {
    if (this.draft.id !== draft.id && isBlank(this.draft)) this.#store.dropJob(this.draft.id)
    this.opened += 1
    this.#hold(draft, {board: '', chosen: null})
    this.way = wayOf(draft)
    Object.assign(this, changes)
    if (!draft.example) {
      if (!this.#store.job(draft.id)) this.#store.keepJob(this.draft)
      this.#store.keepForGood()
    }
    this.#keepNow()
    this.#onChange('draft')
  }

  /** Nothing of one's own is on this device: only the example, or a lot that has nothing in it. */
  get isEmpty() {
    return (this.draft.example || isBlank(this.draft)) && this.#store.jobs().every(isBlank)
  }

  /** The example, in these units. @param {Units} units @param {Partial<Pick<State, 'view' | 'way'>>} [changes] */
  openExample(units, changes = {}) {
    this.open(this.#example(units), changes)
  }

  /**
   * The way back from what was changed since `before`: that alone, whatever came after.
   * @param {Snapshot} before
   * @returns {WayBack}
   */
  backFrom(before) {
    const {draft: after, hand} = this
    const made = () => takenBack(before.draft, after, this.draft)
    return {
      still: () => made() !== null,
      back: () => {
        const draft = made()
        if (!draft) return
        const {view, way} = this
        if (!before.draft.example || !isSameLot(draft, before.draft))
          this.change(draft, this.hand.board === hand.board ? before.hand : this.hand)
        else {
          this.#store.dropJob(draft.id)
          this.open(before.draft, {view, way})
        }
      },
    }
  }

  /**
   * The way back to the job of before, from one that was opened instead, with others `beside` it: as long as nothing was
   * entered in them. That job is taken as it is stored by then.
   * @param {Snapshot} before
   * @param {Draft[]} [beside]
   * @returns {WayBack}
   */
  backTo({draft: {id, example, units}, view, way}, beside = []) {
    const opened = this.draft
    const kept = (/** @type {Draft} */ one) => {
      const now = this.#store.job(one.id)
      return now !== null && isSameLot(now, one)
    }
    return {
      still: () =>
        this.draft.id === opened.id &&
        isSameLot(this.draft, opened) &&
        beside.every(kept) &&
        (example || this.#store.job(id) !== null),
      back: () => {
        for (const one of [opened, ...beside]) this.#store.dropJob(one.id)
        this.open((!example && this.#store.job(id)) || this.#example(units), {view, way})
      },
    }
  }

  /** @returns {Snapshot} */
  snapshot() {
    const {draft, hand, view, way} = this
    return {draft, hand, view, way}
  }

  /** Another tab changed the job: what it stored is the newest. @param {string} id */
  adopt(id) {
    const stored = id === this.draft.id ? this.#store.job(id) : null
    if (!stored) return
    this.#hold(stored)
    this.#onChange('draft')
  }

  /** @param {Units} units @returns {Draft} */
  #example(units) {
    return {...fromDocument(this.#demo[units] ?? {thickset: 1, boards: []}, 'example'), example: true}
  }

  /** @param {Draft} draft @param {Hand} [hand] */
  #hold(draft, hand = this.hand) {
    Object.assign(this, settled(draft, hand))
  }

  #keepNow() {
    const {draft, hand, view, way, keys, scale} = this
    this.#store.keepNow({job: draft.id, units: draft.units, board: hand.board, view, way, keys, scale})
  }
}
