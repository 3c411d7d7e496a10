// What the planner's start is doing, in bytes as they arrive; the screen when it does not start; and what it works on
// for long, which can be stopped.

import {$, say} from '../base/dom.js'

/** @import {EngineState, StageTold, StateDetail} from './engine.js' */

/**
 * Not toLocaleString: a browser that first has to learn a language takes longer over that than over the rest of the
 * page.
 * @param {number} bytes
 */
const kilobytes = (bytes) => String(Math.round(bytes / 1000)).replace(/\B(?=(\d{3})+$)/g, ',')

/** What each lane asks for. @type {Partial<Record<string, string>>} */
const WORK = {
  plan: 'the plan',
  mechanics: 'what stands below the plan',
  more: 'the questions beside the plan',
  rehearse: 'the pictures of the passes',
  run: 'the run',
  why: 'the reasons',
  paper: 'the sheet',
  split: 'the two lots',
}

/**
 * `onStop()`: what takes long is wanted no more.
 * @param {HTMLElement} boot
 * @param {HTMLElement} failed
 * @param {HTMLElement} working
 * @param {() => void} onStop
 */
export function createBoot(boot, failed, working, onStop) {
  $('button', working).addEventListener('click', onStop)
  const bar = $('progress', boot, HTMLProgressElement)
  const words = $('#boot-text', boot)
  return {
    /** @param {StageTold} told */
    stage({loaded, total, text, slow}) {
      if (total) {
        bar.max = total
        bar.value = Math.min(loaded ?? 0, total)
      } else {
        bar.removeAttribute('value')
      }
      const bytes = total ? `: ${kilobytes(loaded ?? 0)} of ${kilobytes(total)} kB` : ''
      say(words, `${text ?? 'Getting the planner ready'}${bytes}.${slow ? ` ${slow}` : ''}`)
    },
    /** @param {string | null} lane */
    slow(lane) {
      working.hidden = lane === null
      if (lane !== null) say($('p', working), `Working on ${WORK[lane] ?? 'the answer'}; go on meanwhile.`)
    },
    /** @param {EngineState} name @param {StateDetail} [detail] */
    state(name, detail) {
      boot.hidden = name !== 'loading'
      failed.hidden = name !== 'failed'
      if (name === 'failed') {
        say($('#boot-reason', failed), detail?.reason ?? 'No reason was given.')
        say($('#boot-cure', failed), detail?.cure ?? '')
      }
    },
  }
}
