// Job documents as files: opened from the device, saved to it.

import {h} from '../base/dom.js'
import {isObject} from '../base/job.js'
import {DEEPEST, isWithin} from '../kept/bounds.js'

/** @import {JobDocument} from '../base/types.js' */

/** Far more than a device keeps of jobs. */
const MOST_BYTES = 40_000_000

/**
 * @param {HTMLInputElement} input
 * @param {{onOpen: (job: JobDocument, name: string) => void, onRefuse: (text: string) => void}} handlers
 */
export function createFiles(input, {onOpen, onRefuse}) {
  input.addEventListener('change', async () => {
    const file = input.files?.[0]
    input.value = ''
    if (!file) return
    if (file.size > MOST_BYTES) {
      onRefuse(
        `${file.name} is too large: ${Math.round(file.size / 1e6)} MB of at most ${MOST_BYTES / 1e6}. Open a file that this page saved.`,
      )
      return
    }
    const job = await file
      .text()
      .then(JSON.parse)
      .catch(() => null)
    if (!isWithin(job) && !Array.isArray(job?.jobs)) {
      onRefuse(
        `${file.name} cannot be opened: it is nested deeper than ${DEEPEST} lists in each other, and no job is. Open a file that this page saved.`,
      )
      return
    }
    if (!isObject(job)) {
      onRefuse(`${file.name} holds no job. Open a file that this page saved.`)
      return
    }
    onOpen(job, file.name)
  })
  return {
    /** One job is laid out to be read; many are packed close. @param {object} job @param {string} title */
    save(job, title, close = false) {
      return saveFile([`${JSON.stringify(job, null, close ? 0 : 2)}\n`], title, 'json', 'application/json')
    },
  }
}

/**
 * Saves a file under the name of a job, and says what it is called.
 * @param {string[]} parts
 * @param {string} title
 * @param {string} ending
 * @param {string} type
 */
export function saveFile(parts, title, ending, type) {
  const words = title.trim().replace(/[^\p{L}\p{N}]+/gu, '-')
  const name = `${words.replace(/^-+|-+$/g, '').slice(0, 60) || 'lot'}.${ending}`
  const address = URL.createObjectURL(new Blob(parts, {type}))
  const link = h('a', {href: address, download: name})
  document.body.append(link)
  link.click()
  link.remove()
  setTimeout(() => URL.revokeObjectURL(address), 10_000)
  return name
}
