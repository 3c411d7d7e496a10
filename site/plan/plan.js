// The answer: html that only the core made, put where it belongs; and whether it still holds for what is entered.

import {$, $$, around, h, say, seek} from '../base/dom.js'
import {leadFromPicture} from '../base/lot_picture.js'

/** @import {Html, Problem} from '../base/types.js' */
/** @typedef {'fresh' | 'blank' | 'waiting' | 'starting' | 'stale' | 'stopped'} PlanState */

/** @type {Partial<Record<PlanState, string>>} */
const SAYINGS = {
  blank: 'Nothing entered yet.',
  waiting: 'Being planned …',
  starting: 'Planned as soon as the planner is ready.',
  stopped: 'The planner did not start.',
}
/** What stands below then, if anything does. @type {Partial<Record<PlanState, string>>} */
const BELOW = {
  starting: 'Below is the plan from before the last change.',
  stale: 'Below is the plan from before the last change.',
  stopped: 'Below is the last plan that was made.',
}
const PATIENCE = 400

/** @param {HTMLElement} root @param {{onProblem: (path: string) => void}} handlers */
export function createPlan(root, {onProblem}) {
  const state = $('#plan-state', root)
  const list = $('#problems', root)
  /** @type {Map<HTMLElement, string>} */
  const painted = new Map()
  let later = 0

  list.addEventListener('click', (event) => {
    const item = around(event.target, 'li[data-at]')
    if (item) onProblem(item.dataset.at ?? '')
  })

  const answer = $('#answer', root)
  leadFromPicture(answer, {
    toBoard: (name) => seen(`[data-board="${CSS.escape(name)}"]`, answer),
    toPass: (number) => toPass(number, root),
  })

  return {
    /**
     * Paints the fragments of an answer, to 'show' or to 'mechanics'; what is the same already stays untouched, so
     * nothing jumps, and what was unfolded stays so.
     * @param {Html} html
     * @param {'show' | 'mechanics'} [of]
     */
    paint(html, of = 'show') {
      for (const slot of $$(`[data-${of}]`, root)) {
        const fragment = html[slot.dataset[of] ?? ''] ?? ''
        if (painted.get(slot) === fragment) continue
        painted.set(slot, fragment)
        const made = document.createElement('template')
        made.innerHTML = fragment
        const open = $$('details', slot, HTMLDetailsElement).map((one) => one.open)
        $$('details', made.content, HTMLDetailsElement).forEach((one, n) => {
          one.open = open[n] ?? one.open
        })
        if (made.innerHTML !== slot.innerHTML) slot.replaceChildren(made.content)
      }
    },
    /** What takes long only is told as waiting. @param {PlanState} name */
    state(name) {
      clearTimeout(later)
      document.documentElement.dataset.plan = name
      const empty = painted.size > 0 && [...painted.values()].every((fragment) => !fragment)
      const tell = () => say(state, [SAYINGS[name], !empty && BELOW[name]].filter(Boolean).join(' '))
      if (name === 'waiting') later = setTimeout(tell, PATIENCE)
      else tell()
    },
    /** @param {Problem[]} problems @param {string} heading */
    problems(problems, heading) {
      const texts = [heading, ...problems.map(({at, text}) => `${at}\n${text}`)].join('\n')
      if (list.dataset.texts === texts) return
      list.dataset.texts = texts
      list.hidden = problems.length === 0
      list.replaceChildren(
        h('h2', {}, heading),
        h(
          'ul',
          {},
          problems.map(({at, text}) => h('li', {'data-at': at}, h('button', {type: 'button', class: 'plain'}, text))),
        ),
      )
    },
  }
}

/** Brings into view what a selector finds. @param {string} selector @param {HTMLElement} root */
function seen(selector, root) {
  const found = seek(selector, root)
  found?.scrollIntoView({block: 'center'})
  return found
}

/** To a pass of the schedule, unfolded. @param {string} number @param {HTMLElement} root */
export function toPass(number, root) {
  const row = seen(`.pass[data-pass="${number}"]`, root)
  const more = row && seek('details', row, HTMLDetailsElement)
  if (more) more.open = true
}
