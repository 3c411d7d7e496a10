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

export class TablesPart {
  #handlers
  #box
  #seen
  #take
  #said
  #comma
  /** The boards of the table that is shown, and the name of the file that it came from. @type {JobDocument[]} */
  #boards = []
  #name = ''
  #timer = 0

  /** @param {HTMLElement} root @param {Handlers} handlers */
  constructor(root, handlers) {
    this.#handlers = handlers
    this.#box = $('textarea', root, HTMLTextAreaElement)
    this.#seen = $('#table-seen', root)
    this.#take = $('#table-take', root)
    this.#said = $('[role="status"]', root)
    this.#comma = $('#table-comma', root, HTMLInputElement)
    this.#listen(root)
  }

  /** @param {HTMLElement} root */
  #listen(root) {
    // How this device writes numbers takes long to find out, so it is asked for when it is needed.
    const findOut = () => {
      this.#comma.checked = (1.5).toLocaleString().includes(',')
    }
    root.addEventListener('toggle', findOut, {once: true})
    this.#box.addEventListener('input', () => {
      clearTimeout(this.#timer)
      this.#name = ''
      this.#timer = setTimeout(() => this.#read(), WAIT)
    })
    const file = $('input[type="file"]', root, HTMLInputElement)
    file.addEventListener('change', () => {
      const opened = file.files?.[0]
      file.value = ''
      if (opened) this.#open(opened)
    })
    this.#seen.addEventListener('change', () =>
      this.#read($$('select', this.#seen, HTMLSelectElement).map((select) => select.value)),
    )
    const button = (/** @type {string} */ name) => $(`[data-table="${name}"]`, root)
    for (const way of /** @type {const} */ (['new', 'add']))
      button(way).addEventListener('click', () => this.#takeBoards(way))
    for (const what of /** @type {const} */ (['passes', 'boards', 'results']))
      button(what).addEventListener('click', () => this.#handlers.onSave(what, this.#comma.checked))
  }

  /** The core's answer; its html only the core made. @param {Answer<'table'>} answer */
  show(answer) {
    if (!answer.ok) return this.#clear(answer.problems[0].text)
    this.#boards = answer.boards
    this.#seen.innerHTML = answer.html.table
    this.#take.hidden = !answer.boards.length
    this.say(answer.boards.length ? '' : 'There are no readings in this table yet. Say which column holds them.')
  }

  /** @param {string} text */
  say(text) {
    say(this.#said, text)
  }

  /** @param {string} text @param {string} title */
  save(text, title) {
    // The mark at the front tells spreadsheets that this is UTF-8.
    this.say(`Saved as ${saveFile(['\ufeff', text], title, 'csv', 'text/csv')}.`)
  }

  #clear(text = '') {
    this.#boards = []
    this.#seen.innerHTML = ''
    this.#take.hidden = true
    this.say(text)
  }

  /** @param {string[]} [roles] */
  #read(roles = []) {
    clearTimeout(this.#timer)
    if (this.#box.value.trim()) this.#handlers.onRead({text: this.#box.value, roles})
    else this.#clear()
  }

  /** @param {File} file */
  async #open(file) {
    if (file.size > MOST_BYTES)
      return this.#clear(`${file.name} is too large for a table of boards: ${Math.round(file.size / 1e6)} MB.`)
    this.#box.value = await file.text()
    this.#name = file.name.replace(/\.\w+$/, '')
    this.#read()
  }

  /** @param {'new' | 'add'} way */
  #takeBoards(way) {
    const taken = this.#boards
    this.#box.value = ''
    this.#clear()
    this.#handlers.onTake(taken, way, this.#name)
  }
}
