// The planer and how the shop works: the fields that decide a plan first, the rare ones folded away.

import {$$, h, say, seek} from '../base/dom.js'

/**
 * The guided talk: one thing at a time, with where to find it or how to measure it. Each field says which of these topics
 * it answers, and so does the place that another part fills.
 * @type {[topic: string, question: string, how: string][]}
 */
const TALK = [
  ['name', 'What do you call this planer?', 'So that you find it again in other jobs.'],
  ['feeds', 'Which feeds are on its plate?', 'Write each as it stands there, with its unit. One is enough.'],
  [
    'head',
    'What does the plate say of the cutterhead?',
    'Enter its speed in rpm and how many knives it has. Leave it empty when the plate is silent.',
  ],
  [
    'fits',
    'What does it take?',
    'The widest and the thinnest board stand on the plate or in the manual, the shortest in the manual. Where no shortest stands, switch off, unplug and measure from roller to roller. The shortest is that and 2 in (50 mm) more.',
  ],
  [
    'deepest',
    'How deep may it cut?',
    'The manual gives the deepest cut, often a lighter one for wide boards. Without a manual leave the gray figure.',
  ],
  [
    'turn',
    'What does one turn of the handle do?',
    'Set the scale to a mark, turn the handle once, and read the scale again. The finest change is the smallest you can set by the scale and the handle.',
  ],
  [
    'scrap',
    'How far off is its scale?',
    'Plane a scrap and measure it: what it is over or under the scale is how far off the scale is. Runs tell more, when you let them.',
  ],
  [
    'lightest',
    'What is its lightest cut?',
    'Plane a scrap with lighter and lighter cuts and look at it against the light. Stop where the infeed roller leaves its marks. Enter the last cut before that: thickness before less thickness after, by the caliper.',
  ],
  [
    'known',
    'Which cut is proven on it?',
    'Take one that it takes with ease. Never go past the deepest cut of the manual, and never deeper until it bogs. How wide was the board, what came off (thickness before less after), at which feed, in which wood?',
  ],
  [
    'snipe',
    'How long is its snipe?',
    'Plane a scrap as long as your boards, and mark on its end grain which end went in first. Feel for the step near each end, or hold a straightedge to it against the light. Measure how far the step lies from that end.',
  ],
  ['cut', 'How much do you take off in a pass?', 'Enter what you are used to, never more than the deepest cut.'],
]

/**
 * `onStep()`: the talk goes on or back; `onDone()`: it is at its end.
 * @param {HTMLElement} root
 * @param {{onStep: () => void, onDone: () => void}} handlers
 */
export function createPlaner(root, {onStep, onDone}) {
  const question = h('h2', {tabindex: -1})
  const how = h('p')
  const count = h('p', {class: 'hint'})
  const back = h('button', {type: 'button', onclick: () => turn(at - 1)}, 'Back')
  const next = h('button', {type: 'button', class: 'strong', onclick: () => turn(at + 1)}, 'Next')
  const leave = h('button', {type: 'button', onclick: () => turn(-1)}, 'All fields')
  const groups = $$('details', root, HTMLDetailsElement)
  const talk = h('div', {id: 'talk', hidden: true}, count, question, how)
  const walk = h('div', {class: 'actions', hidden: true}, back, next, leave)
  root.prepend(talk)
  root.append(walk)
  let at = -1

  /** @param {number} step */
  function turn(step) {
    onStep()
    const over = step >= TALK.length
    at = over ? -1 : Math.max(-1, step)
    const talking = at >= 0
    const [topic, asked, told] = TALK[Math.max(0, at)]
    root.classList.toggle('talking', talking)
    talk.hidden = !talking
    walk.hidden = !talking
    for (const one of $$('[data-field], [data-talk]', root)) one.hidden = talking && one.dataset.talk !== topic
    for (const group of groups) {
      group.hidden = talking && !seek(`[data-talk="${topic}"]`, group)
      group.open = talking && !group.hidden
    }
    if (talking) {
      say(count, `${at + 1} of ${TALK.length}`)
      say(question, asked)
      say(how, told)
      back.disabled = at === 0
      root.scrollIntoView({block: 'start'})
      question.focus({preventScroll: true})
    }
    if (over) onDone()
  }

  return {
    talk: () => turn(0),
    /** Every field is there again, so that a problem can lead to any of them. */
    all: () => at >= 0 && turn(-1),
  }
}
