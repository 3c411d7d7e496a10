// The planers on this device: wires their list to the state and the store. A job carries its own copy of its planer.

import {toDocument} from '../base/document.js'
import {$} from '../base/dom.js'
import {isBlank, isOfPlaner, newId, recordOf, runOf, settingsIn, withRecord} from '../base/job.js'
import {unfold} from '../base/views.js'
import {Book} from './book.js'
import {createPlaner} from './planer.js'
import {createPlaners} from './planers.js'
import {ScrapPart} from './scrap.js'
import {Which} from './which.js'

/** @import {Ask, JobDocument, OfferUndo, Planer, PlanerRecord, Settings, State, Store} from '../base/types.js' */

/** @param {Settings} settings */
const ofPlaner = (settings) =>
  Object.fromEntries(
    Object.entries(settings)
      .filter(([path, text]) => isOfPlaner(path) && text.trim())
      .sort(([a], [b]) => (a < b ? -1 : 1)),
  )

/** What the book says of these goes with the record. */
const LEARNED = ['practice.set_seconds', 'practice.handle_seconds', 'planer.snipe.lead', 'planer.snipe.trail']

/**
 * All that a kept planer and the planer in hand are compared by.
 * @param {Settings} settings
 * @param {PlanerRecord} [record]
 */
const whole = (settings, record) => JSON.stringify([ofPlaner(settings), record ?? null])

/** @param {Planer} planer */
function aboutOf({settings}) {
  const feeds = [0, 1, 2, 3]
    .map((n) => settings[`planer.feeds[${n}]`])
    .filter(Boolean)
    .join(', ')
  return [settings['practice.cut'] && `cut ${settings['practice.cut']}`, feeds].filter(Boolean).join(' · ')
}

export class Shop {
  #root
  #state
  #store
  #ask
  #offerUndo
  #form
  #scrap
  #list
  #which
  /** The book of the planer in hand. */
  book
  /** The job in which the kept planer was last in hand of which something is known, and that planer. */
  #learned = {job: '', of: ''}
  /** The question about the scrap whose answer is on the page. @type {Record<string, unknown> | undefined} */
  #weighed

  /**
   * @param {HTMLElement} root
   * @param {State} state
   * @param {Store} store
   * @param {{ask: Ask, offerUndo: OfferUndo, onPrint: (kind: string, html: string) => void}} handlers
   */
  constructor(root, state, store, {ask, offerUndo, onPrint}) {
    this.#root = root
    this.#state = state
    this.#store = store
    this.#ask = ask
    this.#offerUndo = offerUndo
    this.#form = createPlaner($('#planer-fields', root), {
      onStep: () => this.#scrap.leave(),
      onDone: () => this.#keep(),
    })
    this.#scrap = new ScrapPart($('[data-step="scrap"]', root), {
      onRead: (entered) => this.#weigh(entered),
      onTake: async (record, entry) => {
        const words = `The scrap is kept with ${this.#name()}.`
        if (!(await this.book.take(entry, words)))
          this.#remember(record, 'The scrap is kept with the planer of this job.')
      },
      onForget: async () => {
        const words = 'What was learned of this planer is forgotten.'
        if (!(await this.book.take({kind: 'carried', record: null}, words))) this.#remember(null, words)
      },
    })
    this.#list = createPlaners($('#planers', root), {
      onUse: (id) => this.#use(id),
      onDelete: (id) => this.#delete(id),
      onKeep: () => this.#keep(),
      onTalk: () => this.#form.talk(),
      onAnother: () => this.#another(),
    })
    this.#which = new Which($('#which', root, HTMLDetailsElement), {
      ask,
      jobs: () => this.#onEach(),
      onUse: (id) => this.#use(id),
    })
    this.book = new Book($('#book', root, HTMLDetailsElement), state, store, {
      ...{ask, offerUndo, onPrint},
      kept: () => this.kept(),
      onChange: () => this.show(),
    })
  }

  show() {
    const {record} = this.#inHand()
    const next = this.forNextLot()
    const mine = whole(next.settings, next.record)
    const planers = this.#store.planers().map((planer) => ({
      id: planer.id,
      name: planer.name,
      about: aboutOf(planer),
      inUse: this.#isInUse(planer),
    }))
    const name = this.#name()
    const kept = this.kept()
    if (kept && record) this.#learned = {job: this.#state.draft.id, of: kept.id}
    const words = planers.some((planer) => planer.name === name) ? `Keep the changes to ${name}` : 'Keep this planer'
    const isAsKept = this.#store.planers().some((planer) => whole(this.settingsOf(planer), planer.record) === mine)
    const atWork = runOf(this.#state.draft).length > 0
    this.#list.show(planers, mine === whole({}) || isAsKept ? '' : words, atWork)
    this.#scrap.show(record)
    this.#which.show()
    this.book.show()
  }

  /** The lot on each planer that is kept; none where there is no lot yet, or its run has begun. */
  #onEach() {
    const {draft} = this.#state
    if (draft.example || isBlank(draft) || runOf(draft).length) return []
    return this.#store.planers().map((planer) => ({
      id: planer.id,
      name: planer.name,
      in_hand: this.#isInUse(planer),
      job: toDocument(this.#with(planer)).job,
    }))
  }

  /** What is known of the planer in hand was learned of this one. @param {Planer} planer @param {PlanerRecord} record */
  #isOf(planer, record) {
    const {job, of} = this.#learned
    return (job === this.#state.draft.id && of === planer.id) || whole({}, planer.record) === whole({}, record)
  }

  /** The job in hand is for a planer as it is kept. @param {Planer} planer */
  #isInUse(planer) {
    const {settings, record} = this.#inHand()
    return whole(this.settingsOf(planer), planer.record) === whole(settings, record)
  }

  /**
   * The planer of the job in hand. Where its run stands in the book, the job goes on with what was known before the run,
   * and the planer with what the book says.
   */
  #inHand() {
    const {draft} = this.#state
    const kept = draft.taught ? this.kept() : undefined
    if (!kept) return {settings: draft.settings, record: recordOf(draft)}
    const {...settings} = draft.settings
    const said = this.settingsOf(kept)
    for (const path of LEARNED) if (path in said) settings[path] = said[path]
    return {settings, record: kept.record}
  }

  /** The planer as the next lot has it, and as it is kept: where it has a book, that says the record, whatever this job has. */
  forNextLot() {
    const kept = this.kept()
    const {settings, record} = this.#inHand()
    const isInBook = kept && this.#store.book(kept.id).length
    return {settings: ofPlaner(settings), record: isInBook ? kept.record : record}
  }

  /**
   * How far the run of the job in hand is: what was done in it here is in the book of its planer once it is through.
   * @param {JobDocument} job
   * @param {boolean} isThrough
   */
  async enterRun(job, isThrough) {
    const {draft, follows} = this.#state
    const planer = this.kept()
    if (planer && draft.here && !follows) await this.book.enter(planer, draft.id, job, isThrough)
  }

  /** The job in hand with a kept planer. @param {Planer} planer */
  #with(planer) {
    const {draft} = this.#state
    const others = Object.entries(draft.settings).filter(([path]) => !isOfPlaner(path))
    const own = settingsIn(ofPlaner(planer.settings), planer.units, draft.units)
    return withRecord({...draft, settings: {...Object.fromEntries(others), ...own}}, planer.record)
  }

  /** Every field is there again, so that a problem can lead to any of them. */
  all() {
    this.#form.all()
  }

  /** To where what was learned can be forgotten. */
  toRecord() {
    this.all()
    const place = $('[data-step="scrap"]', this.#root)
    unfold(place)
    $('.actions button:not([hidden])', place).focus()
  }

  /** What to ask why of the scrap, or of the plan on a planer; undefined for anything else. @param {string} what */
  question(what) {
    if (what === 'scrap') return this.#weighed
    return what.startsWith('book.') ? this.book.reasons(what) : this.#which.question(what)
  }

  /** The planer kept under the name of the one in hand, if there is one. */
  kept() {
    return this.#store.planers().find((planer) => planer.name === this.#name())
  }

  /** A planer is kept just so, and not changed or deleted since. @param {Planer} planer */
  isKept({id, settings, record}) {
    const now = this.#store.planers().find((one) => one.id === id)
    return now !== undefined && whole(now.settings, now.record) === whole(settings, record)
  }

  /** The settings of a kept planer, said in the units of the job in hand. @param {Planer} planer */
  settingsOf(planer) {
    return settingsIn(planer.settings, planer.units, this.#state.draft.units)
  }

  #name() {
    return (this.#state.draft.settings['planer.name'] ?? '').trim()
  }

  /** @param {import('./scrap.js').Scrap} entered */
  async #weigh(entered) {
    const {draft} = this.#state
    const question = {scrap: entered, units: draft.units, record: this.#inHand().record}
    const said = await this.#ask({ask: 'scrap', ...question}, 'scrap')
    if (!said) return
    this.#weighed = {form: 'scrap', ...question}
    this.#scrap.tell(entered, said)
  }

  /** @param {PlanerRecord | null} record @param {string} words */
  #remember(record, words) {
    const before = this.#state.snapshot()
    this.#state.change(withRecord(this.#state.draft, record))
    this.#offerUndo(words, this.#state.backFrom(before))
  }

  /** @param {string} id */
  #use(id) {
    const state = this.#state
    const before = state.snapshot()
    const planer = this.#store.planers().find((one) => one.id === id)
    if (!planer) return
    state.change(this.#with(planer))
    this.#offerUndo(`This job is for ${planer.name} now.`, state.backFrom(before))
  }

  /** The fields are emptied for a planer of which nothing is known. */
  #another() {
    const [state, before] = [this.#state, this.#state.snapshot()]
    state.change(this.#with({id: '', name: '', units: state.draft.units, settings: {}}))
    this.#form.talk()
    this.#offerUndo('The fields are empty, for another planer.', state.backFrom(before))
  }

  /** @param {string} id */
  #delete(id) {
    const planer = this.#store.planers().find((one) => one.id === id)
    if (!planer) return
    const book = this.#store.book(id)
    this.#store.dropPlaner(id)
    this.#store.keepBook(id, [])
    this.show()
    this.#offerUndo(`${planer.name} is deleted. Jobs keep their own copy.`, {
      still: () => !this.#store.planers().some((one) => one.id === id || one.name === planer.name),
      back: () => {
        this.#store.keepPlaner(planer)
        this.#store.keepBook(id, book)
        this.show()
      },
    })
  }

  /** The planer of the job in hand is kept under its name; one of the same name is replaced, with a way back. */
  #keep() {
    const [state, store] = [this.#state, this.#store]
    const name = this.#name() || 'My planer'
    const old = store.planers().find((planer) => planer.name === name)
    if (!this.#name()) state.change({...state.draft, settings: {...state.draft.settings, 'planer.name': name}})
    const {units} = state.draft
    const id = old?.id ?? newId()
    const {settings, record} = this.forNextLot()
    // A machine under a new name may be another one: it must be measured, and not take over what one does not know of it.
    const from = record && !old && store.planers().find((planer) => this.#isOf(planer, record))
    const before = state.snapshot()
    if (from && !runOf(state.draft).length) state.change(withRecord(state.draft, null))
    const kept = {id, name, units, settings, ...(from ? {} : {record})}
    store.keepPlaner(kept)
    this.show()
    const written = this.book.settle(kept)
    const stays = from ? ` What was learned of ${from.name} stays with that one.` : ''
    const way = state.backFrom(before)
    this.#offerUndo(`${name} is kept on this device.${stays}`, {
      still: () => this.isKept(kept) && (!from || way.still()),
      back: async () => {
        if (from) way.back()
        ;(await written)?.back()
        if (old) store.keepPlaner(old)
        else store.dropPlaner(id)
        this.show()
      },
    })
  }
}
