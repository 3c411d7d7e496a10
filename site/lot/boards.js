// Board by board: the board in hand with its readings, and the rows of all boards.

import {$, figureParts, h, say} from '../base/dom.js'

/** `onReading(n)`, `onBoard(id)`: a reading or a board was tapped. */
export function createBoards(root, {onReading, onBoard}) {
  const readings = $('#readings', root)
  const rows = $('#rows', root)
  readings.addEventListener('click', (event) => {
    const item = event.target.closest('[data-reading]')
    if (item) onReading(Number(item.dataset.reading))
  })
  rows.addEventListener('click', (event) => {
    const item = event.target.closest('[data-board]')
    if (item) onBoard(item.dataset.board)
  })

  /** Draws only what differs from what is there, so that the focus stays where it is. */
  function draw(list, texts, make) {
    const drawn = JSON.stringify(texts)
    if (list.dataset.drawn === drawn) return
    list.dataset.drawn = drawn
    list.replaceChildren(...texts.map(make))
  }

  function showReadings(board, chosen) {
    draw(
      readings,
      board.readings.map((text, n) => [board.id, text, n === chosen]),
      ([id, text, pressed], n) =>
        h(
          'li',
          {
            'data-field': `b:${id}.readings.${n}`,
            'data-at': '',
            'data-reading': n,
            class: 'reading',
          },
          h(
            'button',
            {type: 'button', 'aria-pressed': String(pressed), 'aria-label': `Reading ${n + 1}: ${text}. Change it.`},
            text.trim() ? figureParts(text) : '…',
          ),
          h('p', {class: 'problem'}),
        ),
    )
    readings.hidden = board.readings.length === 0
  }

  function showRows(boards, current, sizeOf) {
    const texts = boards.map((board) => [board.id, board.name, board.readings, sizeOf(board), board.id === current])
    draw(rows, texts, ([id, name, list, size, inHand]) =>
      h(
        'li',
        {'data-at': '', 'data-field': `b:${id}`, class: 'row'},
        h(
          'button',
          {type: 'button', 'data-board': id, 'aria-current': inHand ? 'true' : null},
          h('b', {}, name),
          h('span', {}, list.join(' · ') || 'not measured'),
          h('small', {}, size),
        ),
        h('p', {class: 'problem'}),
      ),
    )
    $('#rows-head', root).hidden = boards.length < 2
    rows.hidden = boards.length < 2
  }

  return {
    /** `board` is the one in hand, `chosen` its reading that is being changed (or null). */
    show({boards, board, chosen, hint, sizeOf}) {
      say($('#board-name', root), `Board ${board.name}`)
      say($('#board-hint', root), hint)
      showReadings(board, chosen)
      showRows(boards, board.id, sizeOf)
      const at = boards.indexOf(board)
      $('[data-do="board-before"]', root).disabled = at <= 0
      $('[data-do="board-after"]', root).disabled = at >= boards.length - 1
      say(
        $('label[for="reading"]', root),
        chosen === null ? `Reading ${board.readings.length + 1}` : `Change reading ${chosen + 1}`,
      )
      $('[data-do="delete-board"]', root).disabled = boards.length < 2 && !board.readings.length
      $('[data-do="copy-board"]', root).disabled = !board.readings.length
    },
  }
}
