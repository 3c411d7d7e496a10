// The readings of all boards as a table to type in, where the screen is wide: a board in a row, arrow keys from cell to
// cell, Enter to the one below, a block from a spreadsheet pasted where the caret is.

import {$$, h} from '../base/dom.js'
import {newBoard, takenOver, withPlaces} from '../base/job.js'

/** @import {Board, Draft} from '../base/types.js' */
/** @typedef {number | 'width' | 'length'} Column */
/** @typedef {{row: number, column: Column, text: string}} Cell */

const SIZES = /** @type {const} */ (['width', 'length'])
/** Readings that have room from the start, and that a board may have [count]. */
const FEWEST = 3
const MOST = 200
const WIDE = window.matchMedia('(min-width: 60rem)')

/** One more than the board with the most readings has. @param {Draft} draft @returns {Column[]} */
export function columnsOf({boards}) {
  const most = Math.max(0, ...boards.map((board) => board.readings.length))
  return [...Array(Math.min(MOST, Math.max(FEWEST, most + 1))).keys(), ...SIZES]
}

/**
 * The draft with these cells; a row below the last board is a new board, an emptied reading is gone.
 * @param {Draft} draft
 * @param {Cell[]} cells
 */
export function withCells(draft, cells) {
  const boards = [...draft.boards]
  for (const row of new Set(cells.map((cell) => cell.row))) {
    const texts = cells.filter((cell) => cell.row === row)
    if (row >= boards.length && !texts.some(({text}) => text.trim())) continue
    while (row >= boards.length) boards.push(newBoard(boards))
    boards[row] = withTexts(boards[row], texts)
  }
  return {...draft, boards}
}

/** @param {Board} board @param {Cell[]} cells */
function withTexts(board, cells) {
  const readings = [...board.readings]
  const sizes = {width: board.width, length: board.length}
  for (const {column, text} of cells) {
    if (typeof column === 'number') readings[column] = text.trim()
    else sizes[column] = text.trim()
  }
  const places = withPlaces(readings, board.places)
  const kept = [...readings.keys()].filter((n) => readings[n])
  return {...board, ...sizes, readings: kept.map((n) => readings[n]), places: kept.map((n) => places[n] ?? '')}
}

/** A block of a spreadsheet as rows of texts. @param {string} text */
export const blockOf = (text) =>
  text
    .replace(/\r\n?/g, '\n')
    .replace(/\n$/, '')
    .split('\n')
    .map((line) => line.split('\t'))

/**
 * `onCells(cells)`: these were entered, or pasted when there are several; `onBoard(id)`: one of this board is being entered.
 * @param {HTMLElement} root
 * @param {{onCells: (cells: Cell[]) => void, onBoard: (id: string) => void}} handlers
 */
export const createGrid = (root, handlers) => new Grid(root, handlers)

class Grid {
  #root
  #handlers
  /** @type {Draft | null} */
  #draft = null
  #shape = ''
  /** @type {Map<string, string>} */
  #wrong = new Map()

  /** @param {HTMLElement} root @param {{onCells: (cells: Cell[]) => void, onBoard: (id: string) => void}} handlers */
  constructor(root, handlers) {
    this.#root = root
    this.#handlers = handlers
    root.addEventListener('keydown', (event) => this.#pressed(event))
    root.addEventListener('change', ({target}) => this.#entered(target))
    root.addEventListener('paste', (event) => this.#pasted(event))
    root.addEventListener('focusin', ({target}) => {
      if (!(target instanceof HTMLInputElement)) return
      target.select()
      const board = this.#draft?.boards[placeOf(target).row]
      if (board) handlers.onBoard(board.id)
    })
    WIDE.addEventListener('change', () => this.#draft && this.show(this.#draft))
  }

  /** @param {Draft} draft */
  show(draft) {
    this.#draft = draft
    if (!WIDE.matches) return
    const columns = columnsOf(draft)
    const shape = JSON.stringify([columns.length, draft.boards.map(({name}) => name)])
    if (shape !== this.#shape) this.#build(draft, columns)
    this.#shape = shape
    for (const input of this.#cells()) {
      const {row, column} = placeOf(input)
      const board = draft.boards[row]
      const text = (typeof column === 'number' ? board?.readings[column] : board?.[column]) ?? ''
      if (input.defaultValue !== text || input !== document.activeElement) input.value = text
      input.defaultValue = text
      const stands = typeof column === 'number' ? '' : (takenOver(draft, row, column)?.text ?? '')
      if (input.placeholder !== stands) input.placeholder = stands
    }
    this.#mark()
  }

  /** What is wrong, by the field that it is of. @param {Map<string, string>} wrong */
  tell(wrong) {
    this.#wrong = wrong
    this.#mark()
  }

  /** A cell that is merely empty is not wrong. */
  #mark() {
    for (const input of this.#cells()) {
      const {row, column} = placeOf(input)
      const part = typeof column === 'number' ? `readings.${column}` : column
      const said = (input.value.trim() && this.#wrong.get(`b:${this.#draft?.boards[row]?.id}.${part}`)) || ''
      input.title = said
      input.setAttribute('aria-description', said)
      input.setAttribute('aria-invalid', String(said !== ''))
    }
  }

  #cells() {
    return $$('input', this.#root, HTMLInputElement)
  }

  /** @param {Draft} draft @param {Column[]} columns */
  #build(draft, columns) {
    const active = document.activeElement
    const at = active instanceof HTMLInputElement && this.#root.contains(active) ? placeOf(active) : null
    const names = [...draft.boards.map(({name}) => name), '+']
    const heads = columns.map((column) =>
      typeof column === 'number' ? `${column + 1}` : column === 'width' ? 'Width' : 'Length',
    )
    this.#root.replaceChildren(
      h(
        'table',
        {},
        h('caption', {class: 'unseen'}, 'Readings, a board in a row. Arrow keys move, Enter goes down.'),
        h(
          'thead',
          {},
          h('tr', {}, [h('th', {scope: 'col'}, 'Board'), ...heads.map((said) => h('th', {scope: 'col'}, said))]),
        ),
        h(
          'tbody',
          {},
          names.map((name, row) =>
            h('tr', {}, [
              h('th', {scope: 'row'}, name),
              ...columns.map((column, n) =>
                h('td', {}, cell(row, column, `${name === '+' ? 'New board' : name}, ${heads[n]}`)),
              ),
            ]),
          ),
        ),
      ),
    )
    if (at) this.#focus(at.row, columns.indexOf(at.column))
  }

  /** @param {number} row @param {number} across */
  #focus(row, across) {
    const rows = [...this.#root.querySelectorAll('tbody tr')]
    const input = rows[row]?.querySelectorAll('input')[across]
    if (input instanceof HTMLInputElement) input.focus()
    return Boolean(input)
  }

  /** @param {KeyboardEvent} event */
  #pressed(event) {
    const {target, key} = event
    if (!(target instanceof HTMLInputElement) || event.isComposing) return
    const step = stepOf(event, target)
    if (key === 'Escape') target.value = target.defaultValue
    if (!step) return
    event.preventDefault()
    const {row, column} = placeOf(target)
    const across = this.#draft ? columnsOf(this.#draft).indexOf(column) : 0
    this.#entered(target)
    this.#focus(row + step[0], across + step[1])
  }

  /** @param {EventTarget | null} target */
  #entered(target) {
    if (!(target instanceof HTMLInputElement) || target.value === target.defaultValue) return
    // Taken once: a cell that the next table replaces says once more that it changed.
    target.defaultValue = target.value
    this.#handlers.onCells([{...placeOf(target), text: target.value}])
  }

  /** @param {ClipboardEvent} event */
  #pasted(event) {
    const {target} = event
    const text = event.clipboardData?.getData('text/plain') ?? ''
    if (!(target instanceof HTMLInputElement) || !this.#draft || !/[\t\n]/.test(text.trim())) return
    event.preventDefault()
    const {row, column} = placeOf(target)
    const columns = columnsOf(this.#draft)
    const first = columns.indexOf(column)
    const cells = blockOf(text).flatMap((line, down) =>
      line.map((one, right) => ({row: row + down, column: beside(columns, first, right), text: one})),
    )
    this.#handlers.onCells(cells)
  }
}

/** What a pasted column falls into: readings go on as readings, whatever room the table had. @param {Column[]} columns @param {number} first @param {number} right @returns {Column} */
function beside(columns, first, right) {
  const column = columns[first]
  return typeof column === 'number' ? Math.min(column + right, MOST - 1) : (columns[first + right] ?? column)
}

/** How far down and to the right a key goes, or null. @param {KeyboardEvent} event @param {HTMLInputElement} input */
function stepOf({key, shiftKey}, input) {
  const whole = input.selectionStart === 0 && input.selectionEnd === input.value.length
  if (key === 'Enter') return [shiftKey ? -1 : 1, 0]
  if (key === 'ArrowDown') return [1, 0]
  if (key === 'ArrowUp') return [-1, 0]
  if (key === 'ArrowRight' && (whole || input.selectionEnd === input.value.length)) return [0, 1]
  if (key === 'ArrowLeft' && (whole || input.selectionStart === 0)) return [0, -1]
  return null
}

/** @param {HTMLInputElement} input @returns {{row: number, column: Column}} */
function placeOf(input) {
  const {row, column} = input.dataset
  return {row: Number(row), column: column === 'width' || column === 'length' ? column : Number(column)}
}

/** @param {number} row @param {Column} column @param {string} said */
const cell = (row, column, said) =>
  h('input', {'data-row': row, 'data-column': column, 'aria-label': said, autocomplete: 'off', spellcheck: 'false'})
