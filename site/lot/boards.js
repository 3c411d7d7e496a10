// Board by board: the board in hand with its readings, and the rows of all boards.

import {$, around, figureParts, h, say} from '../base/dom.js'

/** @import {Board} from '../base/types.js' */
/**
 * `board` is the one in hand, `chosen` its reading that is being changed.
 * @typedef {{boards: Board[], board: Board, chosen: number | null, hint: string}} Shown
 */

/**
 * `onReading(n)`, `onBoard(id)`: a reading or a board was tapped.
 * @param {HTMLElement} root
 * @param {{onReading: (n: number) => void, onBoard: (id: string) => void}} handlers
 */
export function createBoards(root, {onReading, onBoard}) {
  const readings = $('#readings', root)
  const rows = $('#rows', root)
  const head = $('#rows-head', root)
  readings.addEventListener('click', (event) => {
    const item = around(event.target, '[data-reading]')
    if (item && !around(event.target, '[data-cure]')) onReading(Number(item.dataset.reading))
  })
  rows.addEventListener('click', (event) => {
    const item = around(event.target, '[data-board]')
    if (item) onBoard(item.dataset.board ?? '')
  })
  return {
    /** @param {Shown} shown */
    show(shown) {
      const {boards, board} = shown
      draw(readings, readingTexts(shown), reading)
      readings.hidden = board.readings.length === 0
      draw(rows, rowTexts(shown), row)
      rows.hidden = boards.length < 2
      head.hidden = rows.hidden
      showHead(root, shown)
    },
  }
}

/**
 * The name of the board in hand, its reading that is awaited, and the buttons that go with it.
 * @param {HTMLElement} root
 * @param {Shown} shown
 */
function showHead(root, {boards, board, chosen, hint}) {
  const at = boards.indexOf(board)
  const awaited = chosen === null ? `Reading ${board.readings.length + 1}` : `Change reading ${chosen + 1}`
  const button = (/** @type {string} */ act) => $(`[data-do="${act}"]`, root, HTMLButtonElement)
  say($('#board-name', root), `Board ${board.name}`)
  say($('#board-hint', root), hint)
  say($('label[for="reading"]', root), awaited)
  button('board-before').disabled = at <= 0
  button('board-after').disabled = at >= boards.length - 1
  button('delete-board').disabled = boards.length < 2 && !board.readings.length
  button('copy-board').disabled = !board.readings.length
}

/**
 * Draws only what differs from what is there, so that the focus stays where it is.
 * @template T
 * @param {HTMLElement} list
 * @param {T[]} texts
 * @param {(one: T, n: number) => HTMLElement} make
 */
function draw(list, texts, make) {
  const drawn = JSON.stringify(texts)
  if (list.dataset.drawn === drawn) return
  list.dataset.drawn = drawn
  list.replaceChildren(...texts.map(make))
}

/** @param {Shown} shown */
const readingTexts = ({board, chosen}) => board.readings.map((text, n) => ({id: board.id, text, pressed: n === chosen}))

/** @param {ReturnType<typeof readingTexts>[number]} text @param {number} n */
function reading({id, text, pressed}, n) {
  return h(
    'li',
    {'data-field': `b:${id}.readings.${n}`, 'data-at': '', 'data-reading': n, class: 'reading'},
    h(
      'button',
      {type: 'button', 'aria-pressed': String(pressed), 'aria-label': `Reading ${n + 1}: ${text}. Change it.`},
      text.trim() ? figureParts(text) : '…',
    ),
    h('p', {class: 'problem'}),
  )
}

/** @param {Shown} shown */
const rowTexts = ({boards, board}) =>
  boards.map(({id, name, readings, width, length}) => ({
    id,
    name,
    readings,
    size: [width, length].filter(Boolean).join(' × '),
    inHand: id === board.id,
  }))

/** @param {ReturnType<typeof rowTexts>[number]} text */
function row({id, name, readings, size, inHand}) {
  return h(
    'li',
    {'data-at': '', 'data-field': `b:${id}`, class: 'row'},
    h(
      'button',
      {type: 'button', 'data-board': id, 'aria-current': inHand ? 'true' : null},
      h('b', {}, name),
      h('span', {}, readings.join(' · ') || 'not measured'),
      h('small', {}, size),
    ),
    h('p', {class: 'problem'}),
  )
}
