// Bad stretches of boards, that no part may have in it: a row for each.

import {$, $$, h} from '../base/dom.js'

/** `onDefects(defects)`: these are the bad stretches now, [{board, from, to}]. */
export function createDefects({onDefects}) {
  const rows = h('ol', {id: 'defect-rows'})
  const root = h(
    'div',
    {id: 'defects'},
    h('h4', {}, 'Knots, splits, wane'),
    h('p', {class: 'hint'}, 'No part has such a stretch in it. Measure both from end 1.'),
    rows,
    h('button', {type: 'button', onclick: () => add()}, 'Add a bad stretch'),
  )
  let names = []
  let made = 0
  const textOf = (row, key) => $(`[data-key="${key}"]`, row).value.trim()
  const kept = () => $$('li', rows).filter((row) => textOf(row, 'from') || textOf(row, 'to'))

  function read() {
    const count = new Map()
    for (const place of $$('.field', rows)) place.dataset.at = ''
    return kept().map((row) => {
      const board = textOf(row, 'board')
      const n = count.get(board) ?? 0
      count.set(board, n + 1)
      for (const key of ['from', 'to'])
        $(`[data-part="${key}"]`, row).dataset.at = `boards[${names.indexOf(board)}].defects[${n}].${key}`
      return {board, from: textOf(row, 'from'), to: textOf(row, 'to')}
    })
  }
  const tell = () => onDefects(read())

  function add({board = names[0], from = '', to = ''} = {}) {
    const n = made++
    const entry = (key, label, value) =>
      h(
        'div',
        {class: 'field', 'data-part': key, 'data-at': ''},
        h('label', {for: `defect-${n}-${key}`}, label),
        h('input', {
          id: `defect-${n}-${key}`,
          'data-key': key,
          value,
          autocomplete: 'off',
          spellcheck: 'false',
          oninput: tell,
        }),
        h('p', {class: 'understood'}),
        h('p', {class: 'problem'}),
      )
    const which = h(
      'select',
      {id: `defect-${n}-board`, 'data-key': 'board', onchange: tell},
      names.map((name) => h('option', {value: name}, name)),
    )
    which.value = board
    rows.append(
      h(
        'li',
        {},
        h(
          'div',
          {class: 'pair'},
          h('div', {class: 'field whole-row'}, h('label', {for: `defect-${n}-board`}, 'Board'), which),
          entry('from', 'From', from),
          entry('to', 'To', to),
        ),
        h(
          'button',
          {
            type: 'button',
            class: 'plain',
            onclick: ({target}) => {
              target.closest('li').remove()
              tell()
            },
          },
          'Delete this stretch',
        ),
      ),
    )
  }

  return {
    root,
    /** The draft's bad stretches, and the names of its boards in the order of the document. */
    show(defects, boards) {
      const same = JSON.stringify(names) === JSON.stringify(boards)
      names = boards
      root.hidden = !names.length
      if (same && JSON.stringify(read()) === JSON.stringify(defects)) return
      rows.replaceChildren()
      defects.forEach(add)
      read()
    },
  }
}
