// Where whoever works without a pointer goes on, and what is said to whoever does not see it.

import {$, say, seek} from './dom.js'

/** So that a text that is said again is heard again [ms]. */
const APART = 100

/** Goes on at something that is no control, so that it is heard. @param {HTMLElement | null} there */
export function goOn(there) {
  if (!there) return
  there.tabIndex = -1
  there.focus({preventScroll: true})
}

/** Goes on at the head of the part in view. */
export function toPartHead() {
  goOn(seek(`#${document.documentElement.dataset.view} h1`))
}

let timer = 0
/** Is said, and not seen. @param {string} text */
export function told(text) {
  const place = $('#told')
  clearTimeout(timer)
  say(place, '')
  timer = setTimeout(() => say(place, text), APART)
}

/** Where what had the focus is gone or out of sight, one goes on at the head of the part, and not at the top of all. */
export function keepFocus() {
  /** @type {HTMLElement | null} */
  let last = null
  document.addEventListener('focusin', ({target}) => {
    last = target instanceof HTMLElement ? target : null
  })
  new MutationObserver(() => {
    const lost = last && !last.checkVisibility({visibilityProperty: true})
    if (!lost || (document.activeElement !== last && document.activeElement !== document.body)) return
    last = null
    toPartHead()
  }).observe(document.body, {childList: true, subtree: true, attributeFilter: ['hidden', 'open']})
}
