// The bars at the top: trouble with keeping, a new version of the page that waits, and another tab that has the job.

import {$, h, say} from './dom.js'

/** @import {Trouble} from './types.js' */

/** @type {Record<Trouble, string>} */
const TROUBLE = {
  forbidden: 'This browser does not let the page keep anything. You can work on. Save to a file before you leave.',
  filling: 'The storage of this device is nearly full. Save to a file, then delete what is no longer wanted here.',
  full: 'The storage of this device is full. You can work on. Save to a file before you leave.',
  damaged: 'Something stored on this device was damaged. It was set aside, not thrown away.',
  unshown: 'A part of this page cannot be shown. What is stored is kept, and can be saved.',
  newer:
    'Something on this device was kept by a newer version of this page, and is left alone. Load the page anew, with a network, to see it.',
}
/** In the order in which they are told. @type {Trouble[]} */
const KINDS = ['forbidden', 'full', 'filling', 'unshown', 'damaged', 'newer']

/** `kinds` as the storage tells them. @param {HTMLElement} bar @param {Trouble[]} kinds */
export function showTrouble(bar, kinds) {
  const words = KINDS.filter((kind) => kinds.includes(kind)).map((kind) => h('p', {}, TROUBLE[kind]))
  const unkept = kinds.includes('forbidden') || kinds.includes('full')
  const act = kinds.includes('unshown')
    ? h('a', {href: 'rescue.html'}, 'What is stored here')
    : kinds.includes('damaged') && !unkept
      ? h('button', {type: 'button', 'data-go': 'jobs'}, 'See what there is')
      : h('button', {type: 'button', 'data-do': 'save-job'}, 'Save to a file')
  bar.replaceChildren(h('div', {}, ...words), act, putAway(bar, 'Go on'))
  turn(bar, !words.length)
}

/**
 * `onUse()` lets the new version in and gives {busy}: how many tabs have something that is not kept yet.
 * @param {HTMLElement} bar
 * @param {() => Promise<{busy?: number}>} onUse
 */
export function showUpdate(bar, onUse) {
  const words = h('p', {}, 'A new version of this page is ready.')
  bar.replaceChildren(
    words,
    h(
      'button',
      {
        type: 'button',
        async onclick() {
          const {busy} = await onUse()
          if (busy)
            say(
              words,
              `${busy === 1 ? 'A tab has' : `${busy} tabs have`} something not kept yet, or ${busy === 1 ? 'does' : 'do'} not answer: enter it or save it to a file there, or close it, then try again.`,
            )
        },
      },
      'Use it now',
    ),
    putAway(bar, 'Later'),
  )
  turn(bar, false)
}

/**
 * Another tab works on this job; `onTake()` lets this one.
 * @param {HTMLElement} bar
 * @param {boolean} follows
 * @param {() => void} onTake
 */
export function showFollowing(bar, follows, onTake) {
  if (bar.hidden !== follows) return
  bar.replaceChildren(
    h('p', {}, 'Another tab works on this job. What is entered there shows here.'),
    h('button', {type: 'button', onclick: onTake}, 'Work on it here'),
  )
  turn(bar, !follows)
}

/** @param {HTMLElement} bar @param {string} words */
const putAway = (bar, words) => h('button', {type: 'button', onclick: () => turn(bar, true)}, words)

/**
 * Shows or hides a bar; what is below stays where it is on the screen, under the finger that is about to tap.
 * @param {HTMLElement} bar
 * @param {boolean} hidden
 */
function turn(bar, hidden) {
  const below = $('main')
  const before = below.getBoundingClientRect().top
  bar.hidden = hidden
  if (document.readyState === 'complete') window.scrollBy(0, below.getBoundingClientRect().top - before)
}
