// Tables: readings pasted or opened as CSV, shown as they were understood before anything changes; plan and boards saved as CSV.

import {$, $$, h, say} from '../base/dom.js'

const WAIT = 300
const MOST_BYTES = 1_000_000

/**
 * `onRead({text, roles})` asks how a table is understood, `onTake(boards, way, name)` takes its boards as a 'new' job or to 'add' to the lot,
 * `onSave(what, comma)` wants the 'passes', the 'boards' or the 'results' of a run as CSV.
 */
export function createTables(root, {onRead, onTake, onSave}) {
  const box = $('textarea', root)
  const file = $('input[type="file"]', root)
  const seen = $('#table-seen', root)
  const take = $('#table-take', root)
  const said = $('[role="status"]', root)
  const comma = $('#table-comma', root)
  let boards = []
  let name = ''
  let timer = 0
  // How this device writes numbers takes long to find out, so it is asked for when it is needed.
  root.addEventListener(
    'toggle',
    () => {
      comma.checked = (1.5).toLocaleString().includes(',')
    },
    {once: true},
  )

  function clear(text = '') {
    boards = []
    seen.innerHTML = ''
    take.hidden = true
    say(said, text)
  }

  function read(roles = []) {
    clearTimeout(timer)
    if (box.value.trim()) onRead({text: box.value, roles})
    else clear()
  }

  box.addEventListener('input', () => {
    clearTimeout(timer)
    name = ''
    timer = setTimeout(read, WAIT)
  })
  file.addEventListener('change', async () => {
    const [opened] = file.files
    file.value = ''
    if (!opened) return
    if (opened.size > MOST_BYTES) {
      clear(`${opened.name} is too large for a table of boards: ${Math.round(opened.size / 1e6)} MB.`)
      return
    }
    box.value = await opened.text()
    name = opened.name.replace(/\.\w+$/, '')
    read()
  })
  seen.addEventListener('change', () => read($$('select', seen).map((select) => select.value)))
  for (const way of ['new', 'add']) {
    $(`[data-table="${way}"]`, root).addEventListener('click', () => {
      const taken = boards
      box.value = ''
      clear()
      onTake(taken, way, name)
    })
  }
  for (const what of ['passes', 'boards', 'results']) {
    $(`[data-table="${what}"]`, root).addEventListener('click', () => onSave(what, comma.checked))
  }

  return {
    /** The core's answer; its html only the core made. */
    show(answer) {
      if (!answer.ok) {
        clear(answer.problems[0].text)
        return
      }
      boards = answer.boards
      seen.innerHTML = answer.html.table
      take.hidden = !boards.length
      say(said, boards.length ? '' : 'There are no readings in this table yet: say which column holds them.')
    },
    say: (text) => say(said, text),
    save(text, title) {
      const name = `${
        title
          .trim()
          .replace(/[^\p{L}\p{N}]+/gu, '-')
          .replace(/^-+|-+$/g, '')
          .slice(0, 60) || 'lot'
      }.csv`
      // The mark at the front tells spreadsheets that this is UTF-8.
      const address = URL.createObjectURL(new Blob(['\ufeff', text], {type: 'text/csv'}))
      const link = h('a', {href: address, download: name})
      document.body.append(link)
      link.click()
      link.remove()
      setTimeout(() => URL.revokeObjectURL(address), 10_000)
      say(said, `Saved as ${name}.`)
    },
  }
}
