// The answer: html that only the core made, put where it belongs; and whether it still holds for what is entered.

import {$, $$, h, say} from '../base/dom.js'

const SAYINGS = {
  blank: 'Nothing entered yet.',
  waiting: 'Being planned …',
  starting: 'Planned as soon as the planner is ready.',
  stopped: 'The planner did not start.',
}
/** What stands below then, if anything does. */
const BELOW = {
  starting: 'Below is the plan from before the last change.',
  stale: 'Below is the plan from before the last change.',
  stopped: 'Below is the last plan that was made.',
}
const PATIENCE = 400

export function createPlan(root, {onProblem}) {
  const state = $('#plan-state', root)
  const list = $('#problems', root)
  const painted = new Map()
  let later = 0

  list.addEventListener('click', (event) => {
    const item = event.target.closest('li[data-at]')
    if (item) onProblem(item.dataset.at)
  })

  return {
    /** Paints the fragments of an answer, to 'show' or to 'mechanics'; what is the same already stays untouched, so nothing jumps, and what was unfolded stays so. */
    paint(html, of = 'show') {
      for (const slot of $$(`[data-${of}]`, root)) {
        const fragment = html[slot.dataset[of]] ?? ''
        if (painted.get(slot) === fragment) continue
        painted.set(slot, fragment)
        const made = document.createElement('template')
        made.innerHTML = fragment
        const open = $$('details', slot).map((one) => one.open)
        $$('details', made.content).forEach((one, n) => {
          one.open = open[n] ?? one.open
        })
        if (made.innerHTML !== slot.innerHTML) slot.replaceChildren(made.content)
      }
    },
    /** 'fresh', 'blank', 'waiting' (told only when it takes long), 'starting', 'stale' or 'stopped'. */
    state(name) {
      clearTimeout(later)
      document.documentElement.dataset.plan = name
      const empty = painted.size > 0 && [...painted.values()].every((fragment) => !fragment)
      const tell = () => say(state, [SAYINGS[name], !empty && BELOW[name]].filter(Boolean).join(' '))
      if (name === 'waiting') later = setTimeout(tell, PATIENCE)
      else tell()
    },
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
