// Tables: readings pasted or opened as CSV, shown as they were understood before anything changes; plan and boards
// saved as CSV.

import {$, $$, say} from '../base/dom.js'
import {saveFile} from '../jobs/files.js'

/** @import {Answer, JobDocument} from '../base/types.js' */
/**
 * @typedef {object} Handlers
 * @property {(table: {text: string, roles: string[]}) => void} onRead asks how a table is understood
 * @property {(boards: JobDocument[], way: 'new' | 'add', name: string) => void} onTake takes its boards
 * @property {(what: 'passes' | 'boards' | 'results', comma: boolean) => void} onSave wants them as CSV
 */

const WAIT = 300
const MOST_BYTES = 1_000_000

/** @param {HTMLElement} root @param {Handlers} handlers */
export function createTables(root, {onRead, onTake, onSave}) {
  const box = $('textarea', root, HTMLTextAreaElement)
  const file = $('input[type="file"]', root, HTMLInputElement)
  const seen = $('#table-seen', root)
  const take = $('#table-take', root)
  const said = $('[role="status"]', root)
  const comma = $('#table-comma', root, HTMLInputElement)
  /** @type {JobDocument[]} */
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

  /** @param {string[]} [roles] */
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
    const opened = file.files?.[0]
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
  seen.addEventListener('change', () => read($$('select', seen, HTMLSelectElement).map((select) => select.value)))
  for (const way of /** @type {const} */ (['new', 'add'])) {
    $(`[data-table="${way}"]`, root).addEventListener('click', () => {
      const taken = boards
      box.value = ''
      clear()
      onTake(taken, way, name)
    })
  }
  for (const what of /** @type {const} */ (['passes', 'boards', 'results'])) {
    $(`[data-table="${what}"]`, root).addEventListener('click', () => onSave(what, comma.checked))
  }

  return {
    /** The core's answer; its html only the core made. @param {Answer<'table'>} answer */
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
    /** @param {string} text */
    say: (text) => say(said, text),
    /** @param {string} text @param {string} title */
    save(text, title) {
      // The mark at the front tells spreadsheets that this is UTF-8.
      say(said, `Saved as ${saveFile(['\ufeff', text], title, 'csv', 'text/csv')}.`)
    },
  }
}
