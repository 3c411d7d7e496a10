// A file of all jobs, planers and damaged entries, taken in: what is here already, to the letter, stays; everything
// else is added.

import {fromDocument, toDocument} from '../base/document.js'
import {isObject, newId} from '../base/job.js'
import {isWithin} from '../kept/bounds.js'

/** @import {Draft, Planer, Store} from '../base/types.js' */

/** @param {unknown} list */
const listed = (list) => (Array.isArray(list) ? list.filter(isObject).filter((one) => isWithin(one)) : [])
/** @param {Draft} job */
const textOf = (job) => JSON.stringify(toDocument(job).job)

/**
 * What was new, in a sentence.
 * @param {Store} store
 * @param {Record<string, unknown>} file
 * @param {unknown[]} jobs
 * @param {string} name
 */
export function bringBack(store, file, jobs, name) {
  const planers = listed(file.planers)
  const texts = listed(file.aside).flatMap(({key, text}) =>
    typeof text === 'string' ? [{key: String(key), text}] : [],
  )
  const added = bringJobs(store, jobs)
  const found = bringPlaners(store, planers)
  const put = texts.filter((entry) => store.addAside(entry)).length
  const more = [
    {all: planers, count: found, words: 'planers were new'},
    {all: texts, count: put, words: 'entries set aside were new'},
  ]
    .filter(({all}) => all.length)
    .map(({all, count, words}) => `; ${count} of ${all.length} ${words}`)
  const all = [jobs, file.planers, file.aside].flatMap((list) => (Array.isArray(list) ? list : []))
  const deep = all.filter((one) => !isWithin(one)).length
  const left = deep ? ` ${deep} could not be read and stay in the file: nested deeper than Thickset writes.` : ''
  return `${name}: ${added} of ${jobs.length} jobs were new and are in the list${more.join('')}.${left}`
}

/**
 * What the rescue page saved goes back to where it was, unless something is there; said in a sentence.
 * @param {Store} store
 * @param {unknown[]} entries
 * @param {string} name
 */
export function putBack(store, entries, name) {
  const put = listed(entries).filter(({key, text}) => typeof text === 'string' && store.putBack(String(key), text))
  return `${name}: ${put.length} of ${entries.length} entries were not here and are back.`
}

/** How many were new. @param {Store} store @param {unknown[]} jobs */
function bringJobs(store, jobs) {
  const here = new Set(store.jobs().map(textOf))
  let added = 0
  for (const job of jobs) {
    if (!isObject(job) || !isWithin(job)) continue
    const document = job.document ?? job
    if (!isObject(document)) continue
    const draft = {...fromDocument(document), touched: Number(job.touched) || Date.now()}
    const text = textOf(draft)
    if (here.has(text)) continue
    here.add(text)
    store.keepJob(draft)
    added += 1
  }
  return added
}

/** How many were new. @param {Store} store @param {Record<string, unknown>[]} planers */
function bringPlaners(store, planers) {
  const text = (/** @type {Planer} */ {name, units, settings, record = {}}) =>
    JSON.stringify([name, units, Object.entries(settings).sort(), Object.entries(record).sort()])
  let added = 0
  for (const given of planers) {
    const planer = store.asPlaner(newId(), given)
    const here = store.planers()
    const book = listed(given.book)
    if (!(Object.keys(planer.settings).length || planer.record || book.length)) continue
    const same = here.find((one) => text(one) === text(planer))
    if (same) {
      if (!store.book(same.id).length) store.keepBook(same.id, book)
      continue
    }
    const taken = new Set(here.map((one) => one.name))
    const {name} = planer
    for (let n = 2; taken.has(planer.name); n += 1) planer.name = `${name} ${n}`
    store.keepPlaner(planer)
    store.keepBook(planer.id, book)
    added += 1
  }
  return added
}
