// Entries of this device that were damaged and set aside: saved to a file or thrown away.

import {h, say} from '../base/dom.js'

/** @param {HTMLElement} root @param {{onSave: () => void, onDrop: () => void}} handlers */
export function createAside(root, {onSave, onDrop}) {
  const words = h('p')
  root.append(
    words,
    h(
      'div',
      {class: 'actions'},
      h('button', {type: 'button', onclick: onSave}, 'Save them to a file'),
      h('button', {type: 'button', onclick: onDrop}, 'Throw them away'),
    ),
  )
  return {
    /** @param {number} count */
    show(count) {
      root.hidden = !count
      say(
        words,
        `${count === 1 ? '1 entry was' : `${count} entries were`} damaged and set aside as found. In a file, whoever can read it may still get something out of it.`,
      )
    },
  }
}
