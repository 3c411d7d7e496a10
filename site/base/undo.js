// One named change is taken back, offered for a while after something was deleted or replaced.

import {$, say} from './dom.js'
import {toPartHead} from './focus.js'

/** @import {WayBack} from './types.js' */

const STAYS = 12000

/** @param {HTMLElement} root */
export function createUndo(root) {
  const words = $('p', root)
  /** @type {WayBack | null} */
  let offered = null
  let timer = 0

  const hide = () => {
    const focused = root.contains(document.activeElement)
    root.hidden = true
    offered = null
    clearTimeout(timer)
    if (focused) toPartHead()
  }
  /** It stays while it has the focus. */
  const hideLater = () => {
    timer = setTimeout(() => (root.contains(document.activeElement) ? hideLater() : hide()), STAYS)
  }
  $('button', root).addEventListener('click', () => {
    const way = offered
    hide()
    if (way?.still()) way.back()
  })
  // The field being entered keeps the focus.
  root.addEventListener('mousedown', (event) => event.preventDefault())
  return {
    /** @param {string} text @param {WayBack} way */
    offer(text, way) {
      say(words, text)
      offered = way
      root.hidden = false
      clearTimeout(timer)
      hideLater()
    },
    /** It goes once what it would take back was changed again, and at the machine, which has an undo of its own. */
    check() {
      if (offered && !(document.documentElement.dataset.view !== 'run' && offered.still())) hide()
    },
  }
}
