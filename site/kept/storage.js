// All that the page keeps on this device: where the person was, the last answer, jobs, planers, forms, and what was
// damaged.

import {isObject, newId} from '../base/job.js'
import {Entries, isNewer, parsed} from './entries.js'
import {mend} from './mending.js'

/**
 * @import {AsideEntry, BookEntry, Draft, KeptAnswer, Now, Planer, Settings, StoredEntry, Trouble, Units} from '../base/types.js'
 */

/** Every key in use. `job`, `planer` and `book` (that planer's) are followed by an id; `aside` (see entries.js) by a number. */
const KEYS = {
  now: 'thickset.now',
  answer: 'thickset.answer',
  job: 'thickset.job.',
  planer: 'thickset.planer.',
  book: 'thickset.book.',
  forms: 'thickset.forms',
}
/** What a person entered or measured. */
const OWN = [KEYS.job, KEYS.planer, KEYS.book]
/** The last moment that a date can be of [ms]. */
const LATEST = 8.64e15

export class Store {
  #entries
  #asked = false

  /**
   * `onTrouble(kinds)`: see entries.js. `onOther(id)`: another tab changed that job, or may have while this one slept.
   * @param {{onTrouble: (kinds: Trouble[]) => void, onOther: (id: string) => void}} handlers
   */
  constructor({onTrouble, onOther}) {
    this.#entries = new Entries(onTrouble, (key, text) => this.#keepOther(key, text))
    document.addEventListener('visibilitychange', () => document.visibilityState === 'hidden' && this.flush())
    window.addEventListener('pagehide', () => this.flush())
    // A tab that slept hears of no change.
    const woken = () => {
      if (document.visibilityState !== 'visible') return
      for (const key of this.#entries.changedElsewhere())
        if (key.startsWith(KEYS.job)) onOther(key.slice(KEYS.job.length))
    }
    document.addEventListener('visibilitychange', woken)
    window.addEventListener('pageshow', ({persisted}) => persisted && woken())
    window.addEventListener('storage', ({key, newValue}) => {
      if (key?.startsWith(KEYS.job) && newValue !== null && !this.#entries.isWaiting(key))
        onOther(key.slice(KEYS.job.length))
    })
  }

  flush() {
    this.#entries.flush()
  }

  /**
   * What another tab wrote of a job meanwhile becomes a job of its own: of two changes at once none is lost.
   * @param {string} key
   * @param {string} there
   */
  #keepOther(key, there) {
    if (key.startsWith(KEYS.book)) this.#entries.putAside({key, text: there})
    if (!key.startsWith(KEYS.job)) return
    const other = parsed(there)
    if (!other) return this.#entries.setAside(key, there)
    const draft = isObject(other.draft) ? other.draft : {}
    const at = new Date().toLocaleTimeString()
    const title = `${draft.title || 'Unnamed lot'}, as another tab left it at ${at}`
    this.#entries.writeNow(KEYS.job + newId(), {...other, draft: {...draft, title, here: false}})
  }

  /**
   * One that a newer version of the page kept stays as it is until a page that knows it comes back.
   * @param {string} key
   */
  #known(key) {
    const held = this.#entries.read(key)
    if (!isNewer(held)) return held
    this.#entries.tell('newer')
    return null
  }

  /** True while something entered is not (or cannot be) stored and is in no file either. */
  unsaved() {
    return this.#entries.unsaved().some((key) => OWN.some((start) => key.startsWith(start)))
  }

  /** These jobs and planers were saved to a file as they are now. @param {string[]} jobs @param {string[]} [planers] */
  inFile(jobs, planers = []) {
    for (const id of jobs) this.#entries.inFile(KEYS.job + id)
    for (const id of planers) for (const kind of [KEYS.planer, KEYS.book]) this.#entries.inFile(kind + id)
  }

  /** Where the person was, as it was stored: nothing of it is sure. @returns {Partial<Record<keyof Now, unknown>>} */
  now() {
    return /** @type {Partial<Record<keyof Now, unknown>>} */ (this.#entries.read(KEYS.now) ?? {})
  }

  /** @param {Now} now */
  keepNow(now) {
    this.#entries.write(KEYS.now, now)
  }

  /** The last answer's html: {job, of, html}. `of` is the document it was made of, as text. */
  answer() {
    return /** @type {Partial<KeptAnswer> | null} */ (this.#entries.read(KEYS.answer))
  }

  /** @param {KeptAnswer} answer */
  keepAnswer(answer) {
    this.#entries.write(KEYS.answer, answer)
  }

  /**
   * The texts of forms that belong to no job, in the units they were written in: {slab: {length: ...}, buy: ...}.
   * @param {Units} units
   * @returns {Partial<Record<string, Settings>>}
   */
  forms(units) {
    const kept = this.#entries.read(KEYS.forms)
    return /** @type {Record<string, Settings>} */ (kept?.[units] ?? {})
  }

  /** @param {Units} units @param {string} name @param {Settings} texts */
  keepForm(units, name, texts) {
    this.#entries.write(KEYS.forms, {...this.#entries.read(KEYS.forms), [units]: {...this.forms(units), [name]: texts}})
  }

  // ------------------------------------------------------------ jobs

  /** @param {string} id @returns {(Draft & {touched: number}) | null} */
  job(id) {
    return this.#entries.made(KEYS.job + id, () => this.#job(id))
  }

  /** @param {string} id @returns {(Draft & {touched: number}) | null} */
  #job(id) {
    const held = this.#known(KEYS.job + id)
    if (!held) return null
    if (!id) {
      // Without a name it could not be written again.
      this.#entries.setAside(KEYS.job, this.#entries.textAt(KEYS.job) ?? '')
      return null
    }
    const draft = mend({...(isObject(held.draft) ? held.draft : {}), id})
    const at = Number(held.touched)
    const touched = at > 0 && at < LATEST ? at : 0
    const {v, touched: _, ...rest} = held
    this.#entries.settle(KEYS.job + id, rest, {draft, touched})
    return {...draft, touched}
  }

  /** @param {Draft} job */
  keepJob({touched, ...draft}) {
    this.#entries.write(KEYS.job + draft.id, {touched: touched ?? 0, draft})
  }

  /** @param {string} id */
  dropJob(id) {
    this.#entries.write(KEYS.job + id, null)
  }

  /** Every job on this device, last touched first. */
  jobs() {
    const jobs = this.#entries.names(KEYS.job).map((name) => this.job(name.slice(KEYS.job.length)))
    return jobs.filter((job) => job !== null).sort((a, b) => b.touched - a.touched)
  }

  // ------------------------------------------------------------ planers

  /** A planer of any age or state, made whole. @param {string} id @param {StoredEntry} held @returns {Planer} */
  asPlaner(id, held) {
    const {title, units, settings} = mend({title: held.name, units: held.units, settings: held.settings})
    const learned = isObject(held.record) ? {record: held.record} : {}
    return {id, name: title.trim() || 'My planer', units, settings, ...learned}
  }

  /** @param {string} id @returns {Planer | null} */
  #planer(id) {
    return this.#entries.made(KEYS.planer + id, () => this.#planerOf(id))
  }

  /** @param {string} id @returns {Planer | null} */
  #planerOf(id) {
    const held = this.#known(KEYS.planer + id)
    if (!held) return null
    const made = this.asPlaner(id, held)
    const {v, ...rest} = held
    const {id: _, ...entry} = made
    this.#entries.settle(KEYS.planer + id, rest, entry)
    return made
  }

  /** Every planer on this device by its name. */
  planers() {
    const planers = this.#entries.names(KEYS.planer).map((name) => this.#planer(name.slice(KEYS.planer.length)))
    return planers.filter((planer) => planer !== null).sort((a, b) => a.name.localeCompare(b.name))
  }

  /** @param {Planer} planer */
  keepPlaner({id, ...rest}) {
    this.#entries.write(KEYS.planer + id, rest)
  }

  /** @param {string} id */
  dropPlaner(id) {
    this.#entries.write(KEYS.planer + id, null)
  }

  /** The entries of a planer's book, the core's to read, in their order. @param {string} id @returns {BookEntry[]} */
  book(id) {
    const key = KEYS.book + id
    const made = this.#entries.made(key, () => {
      const held = this.#known(key)
      if (!held) return []
      const {v, ...rest} = held
      const entries = Array.isArray(held.entries) ? held.entries.filter(isObject) : []
      this.#entries.settle(key, rest, {entries})
      return entries
    })
    return made ?? []
  }

  /** @param {string} id @param {BookEntry[]} entries */
  keepBook(id, entries) {
    if (entries.length || this.book(id).length) this.#entries.write(KEYS.book + id, entries.length ? {entries} : null)
    this.#entries.tellFilling()
  }

  // ------------------------------------------------------------ what this page cannot read

  /** Texts that could not be read and were set aside as they were found: [{id, key, text}]. */
  aside() {
    return this.#entries.aside()
  }

  /** One from a file; whether it was not here yet. @param {AsideEntry} entry */
  addAside(entry) {
    return this.#entries.putAside(entry).isNew
  }

  /** A text that the rescue page saved; whether it is back in its place. @param {string} key @param {string} text */
  putBack(key, text) {
    const mine = Object.values(KEYS).some((start) => key.startsWith(start)) || key.startsWith('thickset.aside.')
    return mine && this.#entries.putBack(key, text)
  }

  /** @param {string} id */
  dropAside(id) {
    this.#entries.dropAside(id)
  }

  /** Entries of a newer version, which are left alone. @returns {AsideEntry[]} */
  newer() {
    return OWN.flatMap((kind) => this.#entries.names(kind))
      .filter((key) => !this.#entries.isWaiting(key))
      .map((key) => ({key, text: this.#entries.textAt(key) ?? ''}))
      .filter(({text}) => isNewer(parsed(text)))
  }

  // ------------------------------------------------------------ kept for good

  /** Asks the browser, once, to keep all this for good; some do, some ask the person, some do not. */
  async keepForGood() {
    if (this.#asked) return
    this.#asked = true
    try {
      await navigator.storage?.persist?.()
    } catch {
      // A browser that refuses to be asked keeps things as it does without.
    }
  }

  /** Whether the browser has said that it keeps all this for good. */
  async keptForGood() {
    try {
      return (await navigator.storage?.persisted?.()) === true
    } catch {
      return false
    }
  }
}
