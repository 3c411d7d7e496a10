// One step back, offered for a while after something was deleted or replaced.

import {$, say} from './dom.js'

const STAYS = 12000

/** @param {HTMLElement} root */
export function createUndo(root) {
  const words = $('p', root)
  /** @type {(() => void) | null} */
  let back = null
  let timer = 0

  const hide = () => {
    root.hidden = true
    back = null
    clearTimeout(timer)
  }
  $('button', root).addEventListener('click', () => {
    const go = back
    hide()
    go?.()
  })
  // The field being entered keeps the focus.
  root.addEventListener('mousedown', (event) => event.preventDefault())
  return {
    /** @param {string} text @param {() => void} undo */
    offer(text, undo) {
      say(words, text)
      back = undo
      root.hidden = false
      clearTimeout(timer)
      timer = setTimeout(hide, STAYS)
    },
    hide,
  }
}
