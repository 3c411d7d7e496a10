// The picture of the lot leads to what it shows: a tap on a board to the board, one beside a line to its pass.

import {around} from './dom.js'

/** How far beside a line a tap still means it [px]. */
const NEAR = 12

/**
 * Both are told once: `toBoard` its name, `toPass` its number.
 * @param {HTMLElement} root
 * @param {{toBoard: (name: string) => void, toPass: (number: string) => void}} handlers
 */
export function leadFromPicture(root, {toBoard, toPass}) {
  root.addEventListener('click', (event) => {
    const picture = around(event.target, 'svg.lot', SVGElement)
    if (!picture) return
    const board = around(event.target, '[data-of]', SVGElement)
    const line = nearest(picture, event.clientY)
    if (board?.dataset.of) toBoard(board.dataset.of)
    else if (line) toPass(line)
  })
}

/** The number of the pass whose line is nearest. @param {SVGElement} picture @param {number} y */
function nearest(picture, y) {
  const lines = [...picture.querySelectorAll('[data-line]')].map((line) => {
    const {top, bottom} = (line.querySelector('path') ?? line).getBoundingClientRect()
    return {number: line.getAttribute('data-line'), off: Math.abs((top + bottom) / 2 - y)}
  })
  const [first] = lines.sort((a, b) => a.off - b.off)
  return first && first.off <= NEAR ? first.number : null
}
