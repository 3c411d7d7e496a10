// Job documents as files: opened from the device, saved to it.

import {h} from '../dom.js'

const MOST_BYTES = 4_000_000

export function createFiles(input, {onOpen, onRefuse}) {
  input.addEventListener('change', async () => {
    const [file] = input.files
    input.value = ''
    if (!file) return
    if (file.size > MOST_BYTES) {
      onRefuse(`${file.name} is too large for a job: ${Math.round(file.size / 1e6)} MB.`)
      return
    }
    let job = null
    try {
      job = JSON.parse(await file.text())
    } catch {
      onRefuse(`${file.name} is not a job document: it is not JSON. Open a file that this page saved.`)
      return
    }
    if (typeof job !== 'object' || job === null || Array.isArray(job)) {
      onRefuse(`${file.name} is not a job document. Open a file that this page saved.`)
      return
    }
    onOpen(job, file.name)
  })
  return {
    save(job, title) {
      const name = `${title.trim().replace(/[^\p{L}\p{N}]+/gu, '-').replace(/^-+|-+$/g, '').slice(0, 60) || 'lot'}.json`
      const address = URL.createObjectURL(new Blob([`${JSON.stringify(job, null, 2)}\n`], {type: 'application/json'}))
      const link = h('a', {href: address, download: name})
      document.body.append(link)
      link.click()
      link.remove()
      setTimeout(() => URL.revokeObjectURL(address), 10_000)
      return name
    },
  }
}
