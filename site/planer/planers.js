// The planers kept on this device.

import {h, say} from '../base/dom.js'

/** @typedef {{id: string, name: string, about: string, inUse: boolean}} Row A planer as the list shows it. */

/**
 * `onKeep()`: the planer of the job in hand is to be kept; `onTalk()`: set one up step by step; `onAnother()`: begin with
 * another one, of which nothing is known.
 * @param {HTMLElement} root
 * @param {Record<'onUse' | 'onDelete', (id: string) => void> & Record<'onKeep' | 'onTalk' | 'onAnother', () => void>} handlers
 */
export function createPlaners(root, {onUse, onDelete, onKeep, onTalk, onAnother}) {
  const list = h('ol')
  const keep = h('button', {type: 'button', 'data-planer': 'keep', onclick: onKeep})
  const another = h('button', {type: 'button', 'data-planer': 'another', onclick: onAnother}, 'Another planer')
  root.append(
    list,
    h(
      'div',
      {class: 'actions'},
      h('button', {type: 'button', 'data-planer': 'talk', onclick: onTalk}, 'Set it up step by step'),
      keep,
      another,
    ),
  )
  let drawn = ''
  return {
    /**
     * `keeping`: the words of the button that keeps this one, or '' when it is kept as it is; `atWork`: a run is under way
     * on it, and no time to begin with another.
     * @param {Row[]} planers
     * @param {string} keeping
     * @param {boolean} atWork
     */
    show(planers, keeping, atWork) {
      say(keep, keeping)
      keep.hidden = !keeping
      another.hidden = atWork || !planers.length
      const drawing = JSON.stringify(planers)
      if (drawing === drawn) return
      drawn = drawing
      list.replaceChildren(
        ...planers.map(({id, name, about, inUse}) =>
          h(
            'li',
            {class: 'job'},
            h(
              'button',
              {type: 'button', class: 'job-open', 'aria-current': inUse ? 'true' : null, onclick: () => onUse(id)},
              h('b', {}, name),
              h('small', {}, about),
            ),
            h(
              'button',
              {type: 'button', class: 'plain', 'aria-label': `Delete ${name}`, onclick: () => onDelete(id)},
              '✕',
            ),
          ),
        ),
      )
    },
  }
}
