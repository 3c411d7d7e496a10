// The plan rehearsed: the core's pictures of the lot after each pass, stepped or played through.

import {$, around} from '../base/dom.js'

const STAYS = 2500

/**
 * `onOpen()`: the pictures are wanted; `show(frames)` brings them.
 * @param {HTMLDetailsElement} root
 * @param {{onOpen: () => void}} handlers
 */
export function createRehearse(root, {onOpen}) {
  const slot = $('#frame', root)
  const back = $('[data-step="-1"]', root, HTMLButtonElement)
  const on = $('[data-step="1"]', root, HTMLButtonElement)
  const play = $('[data-play]', root, HTMLButtonElement)
  /** @type {string[]} */
  let frames = []
  let place = 0
  let timer = 0

  function paint() {
    slot.innerHTML = frames[place] ?? ''
    back.disabled = place === 0
    on.disabled = place >= frames.length - 1
    play.hidden = frames.length < 2 || window.matchMedia('(prefers-reduced-motion: reduce)').matches
    play.textContent = timer ? 'Stop' : 'Play'
  }

  function stop() {
    clearInterval(timer)
    timer = 0
  }

  /** @param {number} by */
  function step(by) {
    place = Math.max(0, Math.min(frames.length - 1, place + by))
    if (place === frames.length - 1) stop()
    paint()
  }

  root.addEventListener('click', ({target}) => {
    const button = around(target, 'button', HTMLButtonElement)
    if (!button) return
    if (button === play && timer) stop()
    else if (button === play) {
      if (place === frames.length - 1) place = 0
      timer = setInterval(() => step(1), STAYS)
    } else {
      stop()
      step(Number(button.dataset.step))
    }
    paint()
  })
  root.addEventListener('toggle', () => (root.open ? onOpen() : stop()))
  paint()

  return {
    /** @param {string[]} given */
    show(given) {
      frames = given
      place = Math.min(place, frames.length - 1)
      paint()
    },
    /** Another plan: from the start again, asked for anew where it is open. */
    renew() {
      stop()
      place = 0
      if (root.open) onOpen()
    },
  }
}
