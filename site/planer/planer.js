// The planer and how the shop works: the fields that decide a plan first, the rare ones folded away.

import {$$, h, say, seek} from '../base/dom.js'

/** @typedef {[key: string, label: string, hint?: string, choices?: Record<string, string>]} Field */

/** @type {Field[]} */
const FIRST = [
  ['practice.cut', 'Planned cut', 'What one pass takes off at most.'],
  ['planer.deepest_cut', 'Deepest cut', 'The most the planer may take, whatever the plan.'],
  ['planer.step', 'Finest change of setting'],
  ['planer.turn', 'One turn of the handle'],
  ['planer.feeds[0]', 'Feed', 'As on the plate, with its unit; a range too: 10 to 25 ft/min.'],
  ['planer.feeds[1]', 'Second feed'],
]
/** Fields under a title, or a place that another part fills. @type {[title: string, fields: Field[] | string][]} */
const FOLDED = [
  [
    'Name and kind',
    [
      ['planer.name', 'Name'],
      ['planer.moves', 'What the handle moves', '', {'': '', table: 'the bed (table)', head: 'the head'}],
    ],
  ],
  [
    'What fits',
    [
      ['planer.widest', 'Widest board'],
      ['planer.shortest', 'Shortest board'],
      ['planer.thinnest', 'Thinnest board'],
    ],
  ],
  [
    'Cuts',
    [
      ['practice.finish_cut', 'Finish cut', 'The light last cut on each side.'],
      ['planer.lightest_cut', 'Lightest cut', 'Less leaves the marks of a serrated infeed roller.'],
      ['practice.near', 'Test piece from', 'A pass this near to the target is tried on a test piece first.'],
      ['target.tolerance', 'Tolerance'],
    ],
  ],
  [
    'More feeds',
    [
      ['planer.feeds[2]', 'Third feed'],
      ['planer.feeds[3]', 'Fourth feed'],
    ],
  ],
  [
    'Head and marks per inch',
    [
      ['planer.head.speed', 'Speed of the head', 'With its unit: 5000 rpm.'],
      ['planer.head.knives', 'Knives'],
      ['planer.head.marking_knives', 'Knives that mark', 'Unless knives are jointed in place, one stands proud: 1.'],
      ['planer.head.diameter', 'Cutting circle'],
      ['practice.rough_marks', 'Marks per inch, rough'],
      ['practice.finish_marks', 'Marks per inch, finish'],
    ],
  ],
  [
    'A cut it takes well',
    [
      ['planer.known_cut.width', 'Width of that board'],
      ['planer.known_cut.depth', 'Depth of that cut'],
      ['planer.known_cut.feed', 'Feed'],
      ['planer.known_cut.species', 'Species'],
      ['planer.known_cut.density', 'or density'],
    ],
  ],
  ['How far off its scale is', 'scrap'],
  [
    'Snipe',
    [
      ['planer.snipe.lead', 'At the leading end'],
      ['planer.snipe.trail', 'At the trailing end'],
    ],
  ],
  [
    'Shavings, air, noise',
    [
      ['shop.bag', 'Bag or drum', 'With its unit: 30 gal or 100 L.'],
      ['shop.duct', 'Duct, inside'],
      ['shop.air', 'Flow of air', 'With everything connected: 800 cfm.'],
      ['shop.noise', 'Noise, dBA', 'Measured beside the planer.'],
    ],
  ],
  [
    'Seconds',
    [
      ['practice.set_seconds', 'To change the setting'],
      ['practice.handle_seconds', 'To handle a board'],
      ['practice.measure_seconds', 'To measure a test piece'],
    ],
  ],
]

/** @param {Field} given */
function field([key, label, hint = '', choices]) {
  const id = `f-${key.replace(/[^a-z0-9]+/g, '-')}`
  const numeric = /seconds|marks|knives|noise/.test(key)
  const input = choices
    ? h(
        'select',
        {id},
        Object.entries(choices).map(([value, text]) => h('option', {value}, text)),
      )
    : h('input', {
        id,
        autocomplete: 'off',
        spellcheck: 'false',
        enterkeyhint: 'next',
        inputmode: numeric ? 'decimal' : null,
      })
  return h(
    'div',
    {class: 'field', 'data-field': key, 'data-at': key},
    h('label', {for: id}, label),
    input,
    h('p', {class: 'understood'}),
    h('p', {class: 'problem'}),
    hint && h('p', {class: 'hint'}, hint),
  )
}

/**
 * The guided talk: one thing at a time, with where to find it or how to measure it; its fields, or a place that another
 * part fills.
 * @type {[question: string, how: string, fields: string[]][]}
 */
const TALK = [
  ['What do you call this planer?', 'So that you find it again in other jobs.', ['planer.name']],
  [
    'Which feeds are on its plate?',
    'Each with its unit, like 16 ft/min or 6 m/min. One is enough.',
    ['planer.feeds[0]', 'planer.feeds[1]', 'planer.feeds[2]', 'planer.feeds[3]'],
  ],
  [
    'What does the plate say of the head?',
    'Its speed in rpm and how many knives it has. Leave it empty when the plate is silent.',
    ['planer.head.speed', 'planer.head.knives'],
  ],
  [
    'What does it take?',
    'The widest and the thinnest board stand on the plate or in the manual; the shortest stands in the manual.',
    ['planer.widest', 'planer.thinnest', 'planer.shortest'],
  ],
  [
    'How deep may it cut?',
    'The manual gives the deepest cut, often less for wide boards. Without a manual leave it at the gray figure.',
    ['planer.deepest_cut'],
  ],
  [
    'What does one turn of the handle do?',
    'Set the scale to a mark, turn the handle once, and read the scale again. The finest change is the smallest you can set by the scale and the handle.',
    ['planer.moves', 'planer.turn', 'planer.step'],
  ],
  ['How far off is its scale?', 'A scrap tells. Later runs tell more, when you say that they may.', ['scrap']],
  [
    'What is its lightest cut?',
    'Plane a scrap with lighter and lighter cuts and look at it against the light. The lightest that still leaves no marks of the infeed roller is what counts: thickness before less thickness after, by the caliper.',
    ['planer.lightest_cut'],
  ],
  [
    'Which cut does it take well?',
    'The deepest cut that does not bog it: plane a wide scrap, a little deeper each time, and listen; the last one at which the motor keeps its speed. How wide was it, what came off (thickness before less after), at which feed, in which wood?',
    ['planer.known_cut.width', 'planer.known_cut.depth', 'planer.known_cut.feed', 'planer.known_cut.species'],
  ],
  [
    'How long is its snipe?',
    'Plane a scrap of 3 ft or 1 m, and mark which end went in first. Feel for the step near each end, or hold a straightedge to it against the light, and measure how far the step lies from that end.',
    ['planer.snipe.lead', 'planer.snipe.trail'],
  ],
  ['How much do you take off in a pass?', 'What you are used to; never more than the deepest cut.', ['practice.cut']],
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
  const fields = h('div', {class: 'pair'}, FIRST.map(field))
  const groups = FOLDED.map(([name, list]) =>
    h(
      'details',
      {class: 'more'},
      h('summary', {}, name),
      typeof list === 'string' ? h('div', {'data-step': list}) : h('div', {class: 'pair'}, list.map(field)),
    ),
  )
  const talk = h('div', {id: 'talk', hidden: true}, count, question, how)
  const walk = h('div', {class: 'actions', hidden: true}, back, next, leave)
  root.append(talk, fields, ...groups, walk)
  let at = -1

  /** @param {number} step */
  function turn(step) {
    onStep()
    const over = step >= TALK.length
    at = over ? -1 : Math.max(-1, step)
    const talking = at >= 0
    const wanted = talking ? TALK[at][2] : []
    root.classList.toggle('talking', talking)
    talk.hidden = !talking
    walk.hidden = !talking
    for (const one of $$('[data-field], [data-step]', root))
      one.hidden = talking && !wanted.includes(one.dataset.field ?? one.dataset.step ?? '')
    for (const group of groups) {
      group.hidden = talking && !seek('[data-field]:not([hidden]), [data-step]:not([hidden])', group)
      group.open = talking && !group.hidden
    }
    if (talking) {
      say(count, `${at + 1} of ${TALK.length}`)
      say(question, TALK[at][0])
      say(how, TALK[at][1])
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
