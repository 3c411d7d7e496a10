// The book of the planer in hand: what its runs and scraps left on this device. The core computes the record from it;
// the day comes from here.

import {$, around, say, seek} from '../base/dom.js'
import {recordOf, withRecord} from '../base/job.js'
import {saveFile} from '../jobs/files.js'

/** @import {Answer, Ask, BookEntry, JobDocument, OfferUndo, Planer, State, Store, WayBack} from '../base/types.js' */
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
  /** The planer whose book is shown with every entry. */
  #whole = ''
  /** The entries that are on the page. @type {BookEntry[]} */
  #read = []
  /** The run that was entered last, and of which job in which book. */
  #entered = ''
  /** Where the browser has no locks: the last that was written. @type {Promise<unknown>} */
  #turn = Promise.resolve()

  /** @param {HTMLDetailsElement} root @param {State} state @param {Store} store @param {Parts} parts */
  constructor(root, state, store, parts) {
    this.#root = root
    this.#state = state
    this.#store = store
    this.#parts = parts
    root.addEventListener('toggle', () => this.show())
    root.addEventListener('click', ({target}) => {
      const {takeBack, book} = around(target, 'button')?.dataset ?? {}
      if (takeBack)
        this.#do({drop: true}, 'The entry is taken back, and the record is without it.', this.#read[Number(takeBack)])
      if (book === 'changed' || book === 'turned')
        this.#do({add: {kind: book}}, 'The length fed begins anew with these knives.')
      if (book === 'all') {
        this.#whole = parts.kept()?.id ?? ''
        this.show()
      }
      if (book === 'csv') this.#save()
      if (book === 'print') parts.onPrint('book', this.#html)
    })
    root.addEventListener('change', ({target}) => {
      if (!(target instanceof HTMLInputElement || target instanceof HTMLSelectElement)) return
      const {word, note} = target.dataset
      if (word ?? note)
        this.#do(
          {change: {[word ? 'word' : 'note']: target.value}},
          'Your word is in the book.',
          this.#read[Number(word ?? note)],
        )
    })
  }

  /** What to ask about the book of a planer; without a record it is what the book says. @param {Planer} planer */
  #question({id, name, units, record}) {
    return {units, name, book: this.#store.book(id), ...(record ? {record} : {}), on: today()}
  }

  /**
   * What to ask why of the book that is on the page.
   * @param {string} what
   * @returns {Record<string, unknown> | undefined}
   */
  reasons(what) {
    return this.#shown ? {form: 'book', ...JSON.parse(this.#shown), what} : undefined
  }

  /**
   * The page is of the book as it is; it stays away until a planer is kept and something is known of it.
   * @returns {Promise<void>}
   */
  async show(isMade = false) {
    const planer = this.#parts.kept()
    this.#root.hidden = !planer || !(planer.record || this.#store.book(planer.id).length)
    if (!planer || this.#root.hidden || !this.#root.open) return
    const question = {...this.#question(planer), all: this.#whole === planer.id}
    if (this.#shown === JSON.stringify(question)) return
    const said = await this.#parts.ask({ask: 'book', ...question}, 'book')
    if (!said) return
    // What was learned without the book is in it from now on.
    if (said.ok && !isMade && !isSame(said.book, question.book) && (await this.write(planer, {})))
      return this.show(true)
    this.#paint(said)
    this.#shown = JSON.stringify(question)
  }

  /** @param {Answer<'book'>} said */
  #paint(said) {
    const slot = $('[data-show-book]', this.#root)
    if (said.ok) {
      slot.innerHTML = this.#html = said.html.book
      this.#read = said.book
    } else say(slot, said.problems.map(({text}) => text).join(' '))
  }

  /**
   * One after the other, whichever tab writes: what another wrote stays, and what this one writes is stored at once.
   * @template T
   * @param {string} id
   * @param {() => Promise<T>} act
   * @returns {Promise<T>}
   */
  #alone(id, act) {
    const stored = async () => {
      try {
        return await act()
      } finally {
        this.#store.flush()
      }
    }
    if (navigator.locks) return navigator.locks.request(`thickset.book.${id}`, stored)
    const turn = this.#turn.then(stored)
    this.#turn = turn.catch(() => {})
    return turn
  }

  /**
   * Asks the core to do something to the book of a planer, and keeps what it makes of it: the book and the record that it
   * says, with the way back to both. Null where the core refuses, or the entry that it is `at` is there no more.
   * @param {Planer} planer
   * @param {Record<string, unknown>} what
   * @param {BookEntry} [at]
   */
  write(planer, what, at) {
    return this.#alone(planer.id, () => this.#write(planer, what, at))
  }

  /** @param {Planer} given @param {Record<string, unknown>} what @param {BookEntry} [at] */
  async #write(given, what, at) {
    const store = this.#store
    const planer = store.planers().find(({id}) => id === given.id) ?? given
    const before = store.book(planer.id)
    const n = at ? before.findIndex((entry) => isSame(entry, at)) : 0
    if (n < 0) return null
    const {change, drop, ...more} = what
    const jobs = 'run' in what ? {jobs: store.jobs().map(({id}) => id)} : {}
    const act = {...more, ...jobs, ...(drop ? {drop: n} : {}), ...(change ? {change: {...change, n}} : {})}
    const said = await this.#parts.ask({ask: 'book', ...this.#question(planer), ...act}, 'book-entry')
    if (!said?.ok) return null
    const {record, ...rest} = planer
    // Seconds and snipe follow from what runs taught; what else was done to the book leaves them as they are kept.
    const settings = {...planer.settings, ...('run' in what || drop ? said.settings : {})}
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

  /** A record that was kept without the book is in it at once. @param {Planer} planer */
  async settle(planer) {
    if (!planer.record && !this.#store.book(planer.id).length) return null
    const done = await this.write(planer, {})
    this.show()
    return done
  }

  /** The book of a planer has the run of a job. @param {Planer} planer @param {string} of */
  holds({id}, of) {
    return this.#store.book(id).some((entry) => entry.of === of)
  }

  /**
   * The run of a job, by its id, becomes an entry once it is through, and that follows it from then on; one that was taken
   * back stays so.
   * @param {Planer} planer
   * @param {string} of
   * @param {JobDocument} job
   * @param {boolean} isThrough
   */
  async enter(planer, of, job, isThrough) {
    const text = JSON.stringify([planer.id, of, job])
    await this.#alone(planer.id, async () => {
      const isIn = () => this.holds(planer, of)
      if (text === this.#entered || !(isIn() || (isThrough && !this.#store.job(of)?.taught))) return
      if (!(await this.#write(planer, {run: job, of, follows: true}))) return
      this.#entered = text
      this.#state.teach(of, isIn())
      this.#parts.onChange()
    })
  }

  /** @param {Record<string, unknown>} what @param {string} words @param {BookEntry} [at] */
  async #do(what, words, at) {
    const planer = this.#parts.kept()
    if (!planer) return
    // A job in hand that knows what the book said knows what it says now; one whose run is in the book stays as it was.
    const {draft} = this.#state
    const follows = !draft.taught && isSame(recordOf(draft), planer.record)
    const done = await this.write(planer, what, at)
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
   * An entry goes into the book of the planer in hand, where the job knows what the book says; whether it did.
   * @param {BookEntry} entry
   * @param {string} words
   */
  async take(entry, words) {
    const {draft} = this.#state
    const planer = this.#parts.kept()
    if (!planer || !(draft.taught || isSame(recordOf(draft), planer.record))) return false
    await this.#do({add: entry}, words)
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
