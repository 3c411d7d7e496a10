// The book of the planer in hand: what its runs and scraps left on this device. The core computes the record from it;
// the day comes from here.

import {$, around, say, seek} from '../base/dom.js'
import {recordOf, withRecord} from '../base/job.js'
import {saveFile} from '../jobs/files.js'

/** @import {Answer, Ask, BookEntry, OfferUndo, Planer, State, Store, WayBack} from '../base/types.js' */
/**
 * `kept()`: the planer kept under the name of the one in hand; `onChange()`: what is kept of it has changed.
 * @typedef {object} Parts
 * @property {Ask} ask
 * @property {OfferUndo} offerUndo
 * @property {() => Planer | undefined} kept
 * @property {() => void} onChange
 * @property {(kind: string, html: string) => void} onPrint
 */

/** Today, where the person is: 2030-12-31. */
export function today() {
  const now = new Date()
  return new Date(now.getTime() - now.getTimezoneOffset() * 60_000).toISOString().slice(0, 10)
}

/** @param {unknown} a @param {unknown} b */
const isSame = (a, b) => JSON.stringify(a ?? null) === JSON.stringify(b ?? null)

export class Book {
  #root
  #state
  #store
  #parts
  #html = ''
  /** Of which planer and book the page is. */
  #shown = ''

  /** @param {HTMLDetailsElement} root @param {State} state @param {Store} store @param {Parts} parts */
  constructor(root, state, store, parts) {
    this.#root = root
    this.#state = state
    this.#store = store
    this.#parts = parts
    root.addEventListener('toggle', () => this.show())
    root.addEventListener('click', ({target}) => {
      const {takeBack, book} = around(target, 'button')?.dataset ?? {}
      if (takeBack) this.#do({drop: Number(takeBack)}, 'The entry is taken back, and the record is without it.')
      if (book === 'changed' || book === 'turned')
        this.#do({add: {kind: book}}, 'The length fed begins anew with these knives.')
      if (book === 'csv') this.#save()
      if (book === 'print') parts.onPrint('book', this.#html)
    })
    root.addEventListener('change', ({target}) => {
      if (!(target instanceof HTMLInputElement || target instanceof HTMLSelectElement)) return
      const {word, note} = target.dataset
      if (word ?? note)
        this.#do(
          {change: {n: Number(word ?? note), [word ? 'word' : 'note']: target.value}},
          'Your word is in the book.',
        )
    })
  }

  /** What to ask about the book of a planer. @param {Planer} planer */
  #question({id, name, units, record}) {
    return {units, name, book: this.#store.book(id), record: record ?? null, on: today()}
  }

  /** The page is of the book as it is; it stays away until a planer is kept and something is known of it. */
  async show() {
    const planer = this.#parts.kept()
    this.#root.hidden = !planer || !(planer.record || this.#store.book(planer.id).length)
    if (!planer || this.#root.hidden || !this.#root.open) return
    const question = this.#question(planer)
    if (this.#shown === JSON.stringify(question)) return
    const said = await this.#parts.ask({ask: 'book', ...question}, 'book')
    if (!said) return
    // What was learned without the book is in it from now on.
    if (said.ok && !isSame(said.book, this.#store.book(planer.id))) this.#store.keepBook(planer.id, said.book)
    this.#paint(said)
    this.#shown = JSON.stringify(this.#question(planer))
  }

  /** @param {Answer<'book'>} said */
  #paint(said) {
    const slot = $('[data-show-book]', this.#root)
    if (said.ok) slot.innerHTML = this.#html = said.html.book
    else say(slot, said.problems.map(({text}) => text).join(' '))
  }

  /**
   * Asks the core to do something to the book of a planer, and keeps what it makes of it: the book and the record that it
   * says, with the way back to both. Null where the core refuses, or another answer came between.
   * @param {Planer} planer
   * @param {Record<string, unknown>} what
   */
  async write(planer, what) {
    const store = this.#store
    const before = store.book(planer.id)
    const said = await this.#parts.ask({ask: 'book', ...this.#question(planer), ...what}, 'book-entry')
    if (!said?.ok) return null
    const {record, ...rest} = planer
    // Seconds and snipe follow from what runs taught; what else was done to the book leaves them as they are kept.
    const settings = {...planer.settings, ...('run' in what || 'drop' in what ? said.settings : {})}
    /** @type {Planer} */
    const learned = {...rest, settings, ...(said.record ? {record: said.record} : {})}
    store.keepPlaner(learned)
    store.keepBook(planer.id, said.book)
    const isStill = () => {
      const now = store.planers().find(({id}) => id === planer.id)
      return isSame(now?.record, learned.record) && isSame(store.book(planer.id), said.book)
    }
    const back = () => {
      store.keepPlaner(planer)
      store.keepBook(planer.id, before)
      this.#parts.onChange()
    }
    return {learned, still: isStill, back}
  }

  /** @param {Record<string, unknown>} what @param {string} words */
  async #do(what, words) {
    const planer = this.#parts.kept()
    if (!planer) return
    // A job in hand that knows what the book said knows what it says now.
    const follows = isSame(recordOf(this.#state.draft), planer.record)
    const done = await this.write(planer, what)
    if (!done) return this.show()
    const job = follows && !isSame(done.learned.record, planer.record) ? this.#toJob(done.learned) : null
    this.#parts.onChange()
    this.#parts.offerUndo(words, {
      still: () => done.still() && (!job || job.still()),
      back() {
        job?.back()
        done.back()
      },
    })
  }

  /** The job in hand takes the record of its planer; the way back. @param {Planer} planer @returns {WayBack} */
  #toJob({record}) {
    const before = this.#state.snapshot()
    this.#state.change(withRecord(this.#state.draft, record))
    return this.#state.backFrom(before)
  }

  /**
   * A scrap goes into the book of the planer in hand, where the job knows what the book says; whether it did.
   * @param {BookEntry} entry
   */
  async take(entry) {
    const planer = this.#parts.kept()
    if (!planer || !isSame(recordOf(this.#state.draft), planer.record)) return false
    await this.#do({add: entry}, `The scrap is kept with ${planer.name}.`)
    return true
  }

  async #save() {
    const planer = this.#parts.kept()
    const said = planer && (await this.#parts.ask({ask: 'book-csv', ...this.#question(planer)}, 'book'))
    if (!planer || !said?.ok) return
    const name = saveFile(['\ufeff', said.text], `${planer.name}, book`, 'csv', 'text/csv')
    const told = seek('[role="status"]', this.#root)
    if (told) say(told, `Saved as ${name}.`)
  }
}
