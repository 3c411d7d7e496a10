// All that the page keeps on this device. The only module that touches localStorage.

import {isObject, newId} from '../base/job.js'
import {isLost, mend} from './mending.js'

const VERSION = 1
/** Every key in use. `job` and `planer` are followed by an id; `aside` by a number: damaged entries, kept as they were found. */
const KEYS = {
  now: 'thickset.now',
  answer: 'thickset.answer',
  job: 'thickset.job.',
  planer: 'thickset.planer.',
  forms: 'thickset.forms',
  aside: 'thickset.aside.',
}
const WAIT = 250
/** The last moment that a date can be of [ms]. */
const LATEST = 8.64e15

/**
 * Opens the store. `onTrouble(kinds)`: of 'forbidden' (nothing can be stored), 'full', 'damaged' (something was set aside), 'newer' (something
 * is left alone) those that hold, none when all is well again; work goes on in memory meanwhile. `onOther(id)`: another tab changed that job,
 * or may have while this one slept.
 */
export function openStorage({onTrouble = () => {}, onOther = () => {}} = {}) {
  /** What is not stored yet, or cannot be; null stands for a removed entry. */
  const waiting = new Map()
  /** The entries of `waiting` that stand in a file as they are. */
  const filed = new Set()
  /** The job entries as this tab last read or wrote them. */
  const known = new Map()
  /** The entries that are written over only once their text is set aside: the key of that, by their own. */
  const guarded = new Map()
  /** The texts of entries of which nothing is lost, by their key. */
  const sound = new Map()
  const troubles = new Set()
  let timer = 0
  let asked = false
  let box = null

  try {
    box = window.localStorage
    box.setItem('thickset.try', '1')
    box.removeItem('thickset.try')
  } catch (error) {
    tell(box && isFull(error) ? 'full' : 'forbidden')
  }

  function isFull(error) {
    return error?.name === 'QuotaExceededError' || error?.name === 'NS_ERROR_DOM_QUOTA_REACHED'
  }

  function tell(kind) {
    if (troubles.has(kind)) return
    troubles.add(kind)
    queueMicrotask(() => onTrouble([...troubles]))
  }

  function textAt(key) {
    try {
      return box?.getItem(key) ?? null
    } catch {
      tell('forbidden')
      return null
    }
  }

  function read(key) {
    if (waiting.has(key)) return waiting.get(key)
    const text = textAt(key)
    known.set(key, text)
    if (text === null) return null
    const held = parsed(text)
    if (!held) setAside(key, text)
    if (held?.v > VERSION && (key.startsWith(KEYS.job) || key.startsWith(KEYS.planer))) {
      tell('newer') // it stays as it is until a page that knows it comes back
      return null
    }
    return held
  }

  /** The entry that a text holds, or null. */
  function parsed(text) {
    try {
      const held = JSON.parse(text)
      return isObject(held) ? held : null
    } catch {
      return null
    }
  }

  /** A text that is no entry goes aside as it was found. */
  function setAside(key, text) {
    tell('damaged')
    try {
      box.setItem(freeAside(), JSON.stringify({key, text}))
      box.removeItem(key)
    } catch {
      // The damaged entry stays where it is.
    }
  }

  /** A text is set aside with what is kept, unless it is there: {name, isNew}. */
  function putAside({key, text}) {
    const there = names(KEYS.aside).find((name) => read(name)?.key === key && read(name).text === text)
    const name = there ?? freeAside()
    if (!there) write(name, {key, text})
    return {name, isNew: !there}
  }

  function freeAside() {
    let n = 1
    while (textAt(KEYS.aside + n) !== null || waiting.has(KEYS.aside + n)) n += 1
    return KEYS.aside + n
  }

  /** What was made of the entry at `key` takes its place. When something of it was lost, its text goes aside first. */
  function settle(key, held, made) {
    const text = known.get(key)
    if (waiting.has(key) || sound.get(key) === text) return
    if (!isLost(held, made)) {
      sound.set(key, text)
      return
    }
    tell('damaged')
    guarded.set(key, putAside({key, text}).name)
    write(key, made)
    flush()
  }

  function write(key, value) {
    waiting.set(key, value)
    filed.delete(key)
    clearTimeout(timer)
    timer = setTimeout(flush, WAIT)
  }

  function flush() {
    clearTimeout(timer)
    if (!waiting.size) return
    for (const [key, value] of [...waiting]) {
      if (waiting.has(guarded.get(key))) continue
      try {
        if (!box) throw new DOMException('no storage', 'SecurityError')
        keepOther(key)
        const text = value === null ? null : JSON.stringify({v: VERSION, ...value})
        if (text === null) box.removeItem(key)
        else box.setItem(key, text)
        known.set(key, text)
        waiting.delete(key)
      } catch (error) {
        tell(isFull(error) ? 'full' : 'forbidden')
      }
    }
    if (!waiting.size && troubles.delete('full')) onTrouble([...troubles])
  }

  /** What another tab wrote of a job meanwhile becomes a job of its own: of two changes at once none is lost. */
  function keepOther(key) {
    const there = key.startsWith(KEYS.job) ? box.getItem(key) : null
    if (there === null || !known.has(key) || there === known.get(key)) return
    const other = parsed(there)
    if (!other) return setAside(key, there)
    const title = `${other.draft?.title || 'Unnamed lot'}, from another tab`
    box.setItem(KEYS.job + newId(), JSON.stringify({...other, draft: {...other.draft, title}}))
  }

  function names(start) {
    const found = new Set([...waiting.keys()])
    try {
      for (let n = 0; box && n < box.length; n += 1) found.add(box.key(n))
    } catch {
      tell('forbidden')
    }
    return [...found].filter((name) => name.startsWith(start))
  }

  function job(id) {
    const held = read(KEYS.job + id)
    if (!held) return null
    const draft = mend({...held.draft, id})
    const touched = held.touched > 0 && held.touched < LATEST ? held.touched : 0
    const {v, touched: _, ...rest} = held
    settle(KEYS.job + id, rest, {draft, touched})
    return {...draft, touched}
  }

  /** A planer of any age or state, made whole. */
  function asPlaner(id, held) {
    const {title, units, settings} = mend({title: held.name, units: held.units, settings: held.settings})
    const learned = isObject(held.record) ? {record: held.record} : {}
    return {id, name: title.trim() || 'My planer', units, settings, ...learned}
  }

  function planer(id) {
    const held = read(KEYS.planer + id)
    if (!held) return null
    const made = asPlaner(id, held)
    const {v, ...rest} = held
    const {id: _, ...entry} = made
    settle(KEYS.planer + id, rest, entry)
    return made
  }

  document.addEventListener('visibilitychange', () => document.visibilityState === 'hidden' && flush())
  window.addEventListener('pagehide', flush)
  // A tab that slept hears of no change.
  const woken = () => {
    if (document.visibilityState !== 'visible') return
    for (const [key, text] of known) {
      if (key.startsWith(KEYS.job) && !waiting.has(key) && text !== textAt(key)) onOther(key.slice(KEYS.job.length))
    }
  }
  document.addEventListener('visibilitychange', woken)
  window.addEventListener('pageshow', ({persisted}) => persisted && woken())
  window.addEventListener('storage', ({key, newValue}) => {
    if (key?.startsWith(KEYS.job) && newValue !== null && !waiting.has(key)) onOther(key.slice(KEYS.job.length))
  })

  return {
    flush,
    /** True while something entered is not (or cannot be) stored and is in no file either. */
    unsaved: () =>
      [...waiting.keys()].some((key) => (key.startsWith(KEYS.job) || key.startsWith(KEYS.planer)) && !filed.has(key)),
    /** These jobs and planers were saved to a file as they are now. */
    inFile(jobs, planers = []) {
      for (const id of jobs) filed.add(KEYS.job + id)
      for (const id of planers) filed.add(KEYS.planer + id)
    },
    /** Where the person was: {job, view, way, board, keys, scale}. */
    now: () => read(KEYS.now) ?? {},
    keepNow: (now) => write(KEYS.now, now),
    /** The last answer's html: {job, of, html}. `of` is the document it was made of, as text. */
    answer: () => read(KEYS.answer),
    keepAnswer: (answer) => write(KEYS.answer, answer),
    /** The texts of forms that belong to no job, in the units they were written in: {slab: {length: ...}, buy: ...}. */
    forms: (units) => read(KEYS.forms)?.[units] ?? {},
    keepForm(units, name, texts) {
      const kept = read(KEYS.forms)
      write(KEYS.forms, {...kept, [units]: {...kept?.[units], [name]: texts}})
    },
    job,
    keepJob: ({touched, ...draft}) => write(KEYS.job + draft.id, {touched: touched ?? 0, draft}),
    dropJob: (id) => write(KEYS.job + id, null),
    /** Every job on this device, last touched first. */
    jobs: () =>
      names(KEYS.job)
        .map((name) => job(name.slice(KEYS.job.length)))
        .filter(Boolean)
        .sort((a, b) => b.touched - a.touched),
    /** Every planer on this device by its name: [{id, name, units, settings}]. */
    planers: () =>
      names(KEYS.planer)
        .map((name) => planer(name.slice(KEYS.planer.length)))
        .filter(Boolean)
        .sort((a, b) => a.name.localeCompare(b.name)),
    asPlaner,
    keepPlaner: ({id, ...rest}) => write(KEYS.planer + id, rest),
    dropPlaner: (id) => write(KEYS.planer + id, null),
    /** Texts that could not be read and were set aside as they were found: [{id, key, text}]. */
    aside: () =>
      names(KEYS.aside)
        .map((name) => ({key: '', ...read(name), id: name.slice(KEYS.aside.length)}))
        .filter(({text}) => typeof text === 'string'),
    keepAside: ({id, key, text}) => write(KEYS.aside + id, {key, text}),
    /** One from a file; whether it was not here yet. */
    addAside: (entry) => putAside(entry).isNew,
    dropAside: (id) => write(KEYS.aside + id, null),
    /** Entries of a newer version, which are left alone: [{key, text}]. */
    newer: () =>
      [...names(KEYS.job), ...names(KEYS.planer)]
        .filter((key) => !waiting.has(key))
        .map((key) => ({key, text: textAt(key)}))
        .filter(({text}) => parsed(text)?.v > VERSION),
    /** Asks the browser, once, to keep all this for good; some do, some ask the person, some do not. */
    async keepForGood() {
      if (asked) return
      asked = true
      try {
        await navigator.storage?.persist?.()
      } catch {
        // A browser that refuses to be asked keeps things as it does without.
      }
    },
    /** Whether the browser has said that it keeps all this for good. */
    async keptForGood() {
      try {
        return (await navigator.storage?.persisted?.()) === true
      } catch {
        return false
      }
    },
  }
}
