// Which part of the page is in view. On a wide screen the plan stands beside the others.

import {$, $$, around, seek} from './dom.js'
import {goOn} from './focus.js'

/** @import {View} from './types.js' */

/**
 * @param {HTMLElement} root
 * @param {{onGo: (view: View) => void}} handlers
 */
export function createViews(root, {onGo}) {
  /** How far each part was scrolled. @type {Map<string | undefined, number>} */
  const spots = new Map()
  root.addEventListener('click', (event) => {
    const button = around(event.target, '[data-go]')
    if (!button) return
    onGo(/** @type {View} */ (button.dataset.go))
    if (!button.dataset.unfold) return
    const part = $(`#${button.dataset.unfold}`)
    unfold(part)
    part.scrollIntoView()
    goOn(seek('summary', part) ?? part)
  })
  return {
    /** @param {View} view */
    show(view) {
      const html = document.documentElement
      if (html.dataset.view !== view) {
        spots.set(html.dataset.view, window.scrollY)
        html.dataset.view = view
        // A run goes on at its next thing to do.
        window.scrollTo(0, view === 'run' ? 0 : (spots.get(view) ?? 0))
      }
      for (const button of $$('[data-go]', root)) {
        if (button.dataset.go === view) button.setAttribute('aria-current', 'page')
        else button.removeAttribute('aria-current')
      }
    },
  }
}

/** Opens the fold that a part stands in. @param {Element | null} part */
export function unfold(part) {
  const folded = around(part, 'details', HTMLDetailsElement)
  if (folded) folded.open = true
}
