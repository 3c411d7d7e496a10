// The finished parts that the lot is for: a row for each.

import {$, $$, h} from '../base/dom.js'
import {rowOf} from './rows.js'

/** @import {Part} from '../base/types.js' */

/** @param {HTMLElement} row @param {string} key */
const textOf = (row, key) => $(`[data-key="${key}"]`, row, HTMLInputElement).value.trim()

export class PartRows {
  #rows
  #onParts

  /** `onParts(parts)`: these are the parts now. @param {HTMLElement} rows @param {(parts: Part[]) => void} onParts */
  constructor(rows, onParts) {
    this.#rows = rows
    this.#onParts = onParts
  }

  /** The draft's parts. @param {Part[]} parts */
  show(parts) {
    const named = parts.map((part, n) => ({...part, name: part.name || `Part ${n + 1}`}))
    if (JSON.stringify(this.#parts()) !== JSON.stringify(named)) {
      this.#rows.replaceChildren()
      for (const part of parts) this.add(part)
    }
    if (!this.#rows.children.length) this.add()
  }

  /** The rows that have something in them, each told where it stands in the document. */
  #kept() {
    const rows = $$('li', this.#rows)
    const kept = rows.filter((row) => textOf(row, 'length') || textOf(row, 'width') || textOf(row, 'count'))
    for (const row of rows)
      for (const place of $$('.field', row))
        place.dataset.at = kept.includes(row) ? `parts[${kept.indexOf(row)}].${place.dataset.part}` : ''
    return kept
  }

  #parts() {
    return this.#kept().map((row, n) => {
      const [name, length, width, count] = ['name', 'length', 'width', 'count'].map((key) => textOf(row, key))
      return {
        name: name || `Part ${n + 1}`,
        length,
        ...(width ? {width} : {}),
        ...(count ? {count: /^\d+$/.test(count) ? Number(count) : count} : {}),
      }
    })
  }

  #tell() {
    this.#onParts(this.#parts())
  }

  /** @param {Part} [part] */
  add(part = {}) {
    const n = this.#rows.children.length
    const fields = rowOf('#part-row', `part-${n}`, part, () => this.#tell())
    $('[data-key="name"]', fields, HTMLInputElement).placeholder = `Part ${n + 1}`
    const remove = () => {
      row.remove()
      this.#tell()
    }
    const row = h('li', {}, fields, h('button', {type: 'button', class: 'plain', onclick: remove}, 'Delete this part'))
    this.#rows.append(row)
  }
}
