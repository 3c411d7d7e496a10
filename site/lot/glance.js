// One line above the foot of the page while the lot is being entered: the plan in short, or what is missing.

import {h, say} from '../base/dom.js'

/** @param {HTMLElement} button @param {{onTap: () => void}} handlers */
export function createGlance(button, {onTap}) {
  const words = h('span')
  button.append(words)
  button.addEventListener('click', onTap)
  return {
    /** @param {string} text @param {'missing' | 'plan'} kind */
    show(text, kind) {
      button.hidden = !text
      button.dataset.kind = kind
      say(words, text)
    },
  }
}
