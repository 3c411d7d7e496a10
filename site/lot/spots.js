// A picture of the board in hand: tap where a reading is taken. Face B is up, end 1 on the left hand.

import {h} from '../base/dom.js'
import {SPOTS} from '../base/fields.js'

/**
 * `onSpot(place)`: a spot was tapped, like "end 1 left".
 * @param {HTMLElement} root
 * @param {{onSpot: (place: string) => void}} handlers
 */
export function createSpots(root, {onSpot}) {
  /** The button and the name of each spot. @type {Map<string, [HTMLButtonElement, string]>} */
  const buttons = new Map()
  const picture = h('div', {
    class: 'spots',
    role: 'group',
    'aria-label': 'The board from above, end 1 on the left hand',
  })
  // Seen from above, a row lies along the board.
  for (const {place, name} of [...SPOTS].sort((a, b) => a.row - b.row)) {
    const button = h('button', {type: 'button', onclick: () => onSpot(place)})
    buttons.set(place, [button, name])
    picture.append(button)
  }
  // The reading being entered keeps the focus.
  picture.addEventListener('mousedown', (event) => event.preventDefault())
  root.append(
    h(
      'div',
      {class: 'spot-ends', 'aria-hidden': 'true'},
      h('span', {}, 'End 1'),
      h('span', {}, 'face B up'),
      h('span', {}, 'End 2'),
    ),
    picture,
  )

  return {
    /**
     * The readings of a board where they were taken, and the spot of the one in hand.
     * @param {{readings: string[], places: string[]}} board
     * @param {string} spot
     */
    show({readings, places}, spot) {
      for (const [place, [button, name]] of buttons) {
        const here = readings.filter((_, n) => places[n] === place).join(', ')
        if (button.textContent !== here) button.textContent = here
        const label = here ? `${name}: ${here}` : name
        if (button.getAttribute('aria-label') !== label) button.setAttribute('aria-label', label)
        button.setAttribute('aria-pressed', String(place === spot))
      }
    },
  }
}
