// The entries of localStorage: read, written a little later, and set aside when they are damaged. The only module that
// touches it.

import {isObject} from '../base/job.js'
import {readBounded} from './bounds.js'
import {isLost} from './mending.js'

/** @import {AsideEntry, StoredEntry, Trouble} from '../base/types.js' */

const VERSION = 1
const ASIDE = 'thickset.aside.'
const WAIT = 250
/** Browsers keep some 5 million signs of a page. */
const NEARLY_FULL = 4_000_000

/** @param {unknown} error */
const isFull = (error) =>
  error instanceof Error && (error.name === 'QuotaExceededError' || error.name === 'NS_ERROR_DOM_QUOTA_REACHED')

/** The entry that a text holds, or null. @param {string} text @returns {StoredEntry | null} */
export function parsed(text) {
  const held = readBounded(text)
  return isObject(held) ? held : null
}

/** Of a version that this page does not know. @param {StoredEntry | null} held */
export const isNewer = (held) => Number(held?.v) > VERSION

export class Entries {
  /** What is not stored yet, or cannot be; null stands for a removed entry. @type {Map<string, object | null>} */
  #waiting = new Map()
  /** The entries of those that stand in a file as they are. @type {Set<string>} */
  #filed = new Set()
  /** The entries as this tab last read or wrote them. @type {Map<string, string | null>} */
  #known = new Map()
  /**
   * The entries that are written over only once their text is set aside: the key of that, by their own.
   * @type {Map<string, string>}
   */
  #guarded = new Map()
  /** The texts of entries of which nothing is lost, by their key. @type {Map<string, string>} */
  #sound = new Map()
  /** @type {Set<Trouble>} */
  #troubles = new Set()
  #timer = 0
  /** @type {Storage | null} */
  #box = null
  #onTrouble
  #keepOther

  /**
   * `onTrouble(kinds)`: of 'forbidden' (nothing can be stored), 'full', 'damaged' (something was set aside), 'newer'
   * (something is left alone) those that hold, none when all is well again; work goes on in memory meanwhile.
   * `keepOther(key, text)`: another tab wrote this entry since it was read here, and it is about to be written over.
   * @param {(kinds: Trouble[]) => void} onTrouble
   * @param {(key: string, text: string) => void} keepOther
   */
  constructor(onTrouble, keepOther) {
    this.#onTrouble = onTrouble
    this.#keepOther = keepOther
    try {
      this.#box = window.localStorage
      this.#box.setItem('thickset.try', '1')
      this.#box.removeItem('thickset.try')
    } catch (error) {
      this.tell(this.#box && isFull(error) ? 'full' : 'forbidden')
    }
  }

  /** @param {Trouble} kind */
  tell(kind) {
    if (this.#troubles.has(kind)) return
    this.#troubles.add(kind)
    queueMicrotask(() => this.#onTrouble([...this.#troubles]))
  }

  /** @param {string} key */
  textAt(key) {
    try {
      return this.#box?.getItem(key) ?? null
    } catch {
      this.tell('forbidden')
      return null
    }
  }

  /** An entry, or null where there is none that can be read. @param {string} key @returns {StoredEntry | null} */
  read(key) {
    const here = this.#waiting.get(key)
    if (here !== undefined) return /** @type {StoredEntry | null} */ (here)
    const text = this.textAt(key)
    this.#known.set(key, text)
    if (text === null) return null
    const held = parsed(text)
    if (!held) this.setAside(key, text)
    return held
  }

  /** @param {string} key @param {object | null} value */
  write(key, value) {
    this.#waiting.set(key, value)
    this.#filed.delete(key)
    clearTimeout(this.#timer)
    this.#timer = setTimeout(() => this.flush(), WAIT)
  }

  /** An entry beside those that are waiting, at once. @param {string} key @param {object} value */
  writeNow(key, value) {
    this.#box?.setItem(key, JSON.stringify(value))
  }

  flush() {
    clearTimeout(this.#timer)
    if (!this.#waiting.size) return
    for (const [key, value] of [...this.#waiting]) {
      if (this.#waiting.has(this.#guarded.get(key) ?? '')) continue
      try {
        this.#put(key, value)
        this.#waiting.delete(key)
      } catch (error) {
        this.tell(isFull(error) ? 'full' : 'forbidden')
      }
    }
    if (!this.#waiting.size && this.#troubles.delete('full')) this.#onTrouble([...this.#troubles])
  }

  /** @param {string} key @param {object | null} value */
  #put(key, value) {
    if (!this.#box) throw new DOMException('no storage', 'SecurityError')
    const there = this.#box.getItem(key)
    if (there !== null && this.#known.has(key) && there !== this.#known.get(key)) this.#keepOther(key, there)
    const text = value === null ? null : JSON.stringify({v: VERSION, ...value})
    if (text === null) this.#box.removeItem(key)
    else this.#box.setItem(key, text)
    this.#known.set(key, text)
  }

  /** A book grows: whoever keeps it hears of it before the storage is full. */
  tellFilling() {
    let held = 0
    for (const key of this.names('')) held += key.length + (this.textAt(key)?.length ?? 0)
    if (held > NEARLY_FULL) this.tell('filling')
  }

  /** The keys, stored or waiting, that begin so. @param {string} start */
  names(start) {
    const found = new Set(this.#waiting.keys())
    try {
      for (let n = 0; this.#box && n < this.#box.length; n += 1) found.add(this.#box.key(n) ?? '')
    } catch {
      this.tell('forbidden')
    }
    return [...found].filter((name) => name.startsWith(start))
  }

  /** @param {string} key */
  isWaiting(key) {
    return this.#waiting.has(key)
  }

  /** The entry stands in a file as it is now. @param {string} key */
  inFile(key) {
    this.#filed.add(key)
  }

  /** The entries that are neither stored nor in a file. */
  unsaved() {
    return [...this.#waiting.keys()].filter((key) => !this.#filed.has(key))
  }

  /** The entries that another tab changed since they were read here. */
  changedElsewhere() {
    return [...this.#known]
      .filter(([key, text]) => !this.#waiting.has(key) && text !== this.textAt(key))
      .map(([key]) => key)
  }

  // ------------------------------------------------------------ what is damaged

  /**
   * What `make` makes of an entry. Whatever goes wrong in one, it is set aside as found, and the others are there.
   * @template T
   * @param {string} key
   * @param {() => T} make
   */
  made(key, make) {
    try {
      return make()
    } catch {
      this.#waiting.delete(key)
      this.setAside(key, this.textAt(key) ?? '')
      return null
    }
  }

  /** A text goes to the letter where nothing is in its place; whether it did. @param {string} key @param {string} text */
  putBack(key, text) {
    if (!this.#box || this.textAt(key) !== null || this.#waiting.has(key)) return false
    try {
      this.#box.setItem(key, text)
      return true
    } catch (error) {
      this.tell(isFull(error) ? 'full' : 'forbidden')
      return false
    }
  }

  /** A text that is no entry goes aside as it was found. @param {string} key @param {string} text */
  setAside(key, text) {
    this.tell('damaged')
    try {
      if (!this.#box) return
      this.#box.setItem(this.#freeAside(), JSON.stringify({key, text}))
      this.#box.removeItem(key)
    } catch {
      // The damaged entry stays where it is.
    }
  }

  /** A text is set aside with what is kept, unless it is there: {name, isNew}. @param {AsideEntry} entry */
  putAside({key, text}) {
    const there = this.names(ASIDE).find((name) => this.read(name)?.key === key && this.read(name)?.text === text)
    const name = there ?? this.#freeAside()
    if (!there) this.write(name, {key, text})
    return {name, isNew: !there}
  }

  #freeAside() {
    let n = 1
    while (this.textAt(ASIDE + n) !== null || this.#waiting.has(ASIDE + n)) n += 1
    return ASIDE + n
  }

  /** Texts that could not be read and were set aside as they were found. */
  aside() {
    return this.names(ASIDE).flatMap((name) => {
      const {key, text} = this.read(name) ?? {}
      const id = name.slice(ASIDE.length)
      return typeof text === 'string' ? [{id, key: typeof key === 'string' ? key : '', text}] : []
    })
  }

  /** @param {string} id */
  dropAside(id) {
    this.write(ASIDE + id, null)
  }

  /**
   * What was made of the entry at `key` takes its place. When something of it was lost, its text goes aside first.
   * @param {string} key
   * @param {object} held
   * @param {object} made
   */
  settle(key, held, made) {
    const text = this.#known.get(key)
    if (text === undefined || text === null || this.#waiting.has(key) || this.#sound.get(key) === text) return
    if (!isLost(held, made)) {
      this.#sound.set(key, text)
      return
    }
    this.tell('damaged')
    this.#guarded.set(key, this.putAside({key, text}).name)
    this.write(key, made)
    this.flush()
  }
}
