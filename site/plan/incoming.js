// A plan that came with the address: told in a bar, opened or left by the person.

import {h} from '../base/dom.js'

/** @param {HTMLElement} bar */
export function createIncoming(bar) {
  return {
    hide() {
      bar.hidden = true
      bar.replaceChildren()
    },
    /**
     * `choices` is a list of [words, what to do].
     * @param {string} text
     * @param {[words: string, act: () => void][]} choices
     */
    tell(text, choices) {
      bar.hidden = false
      bar.replaceChildren(
        h('p', {}, text),
        ...choices.map(([words, act], n) =>
          h('button', {type: 'button', class: n ? '' : 'strong', onclick: act}, words),
        ),
      )
    },
  }
}
