// Job documents as files: opened from the device, saved to it.

import {h} from '../base/dom.js'

/** Far more than a device keeps of jobs. */
const MOST_BYTES = 40_000_000

export function createFiles(input, {onOpen, onRefuse}) {
  input.addEventListener('change', async () => {
    const [file] = input.files
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
    if (typeof job !== 'object' || job === null || Array.isArray(job)) {
      onRefuse(`${file.name} holds no job. Open a file that this page saved.`)
      return
    }
    onOpen(job, file.name)
  })
  return {
    /** One job is laid out to be read; many are packed close. */
    save(job, title, close = false) {
      const name = `${
        title
          .trim()
          .replace(/[^\p{L}\p{N}]+/gu, '-')
          .replace(/^-+|-+$/g, '')
          .slice(0, 60) || 'lot'
      }.json`
      const address = URL.createObjectURL(
        new Blob([`${JSON.stringify(job, null, close ? 0 : 2)}\n`], {type: 'application/json'}),
      )
      const link = h('a', {href: address, download: name})
      document.body.append(link)
      link.click()
      link.remove()
      setTimeout(() => URL.revokeObjectURL(address), 10_000)
      return name
    },
  }
}
