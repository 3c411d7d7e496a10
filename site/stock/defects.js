// Bad stretches of boards, that no part may have in it: a row for each.

import {$, $$, around, h} from '../base/dom.js'
import {rowOf} from './rows.js'

/** @import {Defect} from '../base/types.js' */

export class Defects {
  #rows = h('ol', {id: 'defect-rows'})
  /** @type {string[]} */
  #names = []
  #made = 0
  #onDefects

  /**
   * `onDefects(defects)`: these are the bad stretches now.
   * @param {{onDefects: (defects: Defect[]) => void}} handlers
   */
  constructor({onDefects}) {
    this.#onDefects = onDefects
    this.root = h(
      'div',
      {id: 'defects'},
      h('h2', {}, 'Knots, splits, wane'),
      h('p', {class: 'hint'}, 'No part has such a stretch in it. Measure both from end 1.'),
      this.#rows,
      h('button', {type: 'button', onclick: () => this.#add()}, 'Add a bad stretch'),
    )
  }

  /**
   * The draft's bad stretches, and the names of its boards in the order of the document.
   * @param {Defect[]} defects
   * @param {string[]} boards
   */
  show(defects, boards) {
    const same = JSON.stringify(this.#names) === JSON.stringify(boards)
    this.#names = boards
    this.root.hidden = !boards.length
    if (same && JSON.stringify(this.#read()) === JSON.stringify(defects)) return
    this.#rows.replaceChildren()
    for (const defect of defects) this.#add(defect)
    this.#read()
  }

  #tell() {
    this.#onDefects(this.#read())
  }

  /** The rows that have something in them, each told where it stands in the document. */
  #read() {
    /** How many each board has so far. @type {Map<string, number>} */
    const count = new Map()
    for (const place of $$('.field', this.#rows)) place.dataset.at = ''
    const kept = $$('li', this.#rows).filter((row) => textOf(row, 'from') || textOf(row, 'to'))
    return kept.map((row) => {
      const board = textOf(row, 'board')
      const n = count.get(board) ?? 0
      count.set(board, n + 1)
      for (const key of ['from', 'to'])
        $(`[data-part="${key}"]`, row).dataset.at = `boards[${this.#names.indexOf(board)}].defects[${n}].${key}`
      return {board, from: textOf(row, 'from'), to: textOf(row, 'to')}
    })
  }

  /** @param {Partial<Defect>} [defect] */
  #add({board = this.#names[0], from = '', to = ''} = {}) {
    const id = `defect-${this.#made}`
    this.#made += 1
    const tell = () => this.#tell()
    const which = h(
      'select',
      {id: `${id}-board`, 'data-key': 'board', onchange: tell},
      this.#names.map((name) => h('option', {value: name}, name)),
    )
    which.value = board
    const remove = (/** @type {Event} */ {target}) => {
      around(target, 'li')?.remove()
      tell()
    }
    const fields = rowOf('#defect-row', id, {from, to}, tell)
    fields.prepend(h('div', {class: 'field whole-row'}, h('label', {for: which.id}, 'Board'), which))
    this.#rows.append(
      h('li', {}, fields, h('button', {type: 'button', class: 'plain', onclick: remove}, 'Delete this stretch')),
    )
  }
}

/** @param {HTMLElement} row @param {string} key */
function textOf(row, key) {
  const input = $(`[data-key="${key}"]`, row)
  return input instanceof HTMLInputElement || input instanceof HTMLSelectElement ? input.value.trim() : ''
}
