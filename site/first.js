// What is seen first: the last plan of the last job is on the screen, and the engine begins, before the rest of the page is wired.

import {createEngine} from './engine/engine.js'
import {$, $$, h, say} from './base/dom.js'
import {createState} from './base/state.js'
import {openStorage} from './kept/storage.js'
import {createPlan} from './plan/plan.js'
import {createViews} from './base/views.js'

const html = document.documentElement

/** What the build wrote into the page. */
export function given(id) {
  try {
    return JSON.parse($(`#${id}`).textContent)
  } catch {
    return null
  }
}

/** What was told, and tapped, before the rest of the page listened. */
const early = []
let listeners = null
const tell =
  (name) =>
  (...told) => {
    listeners ? listeners[name](...told) : early.push([name, told])
  }
const hold = (event) => {
  event.preventDefault()
  event.stopPropagation()
  const tapped = event.target.closest('button, summary, label, a') ?? event.target
  early.push(['tap', [tapped, tapped.outerHTML]])
}
/** What was tapped; where it was painted anew meanwhile, the same as it was. What is the same no more is not tapped. */
function tapAgain(tapped, html) {
  const now = tapped.isConnected ? tapped : $$(tapped.localName).find((one) => one.outerHTML === html)
  now?.click()
}

/** From now on `to.state`, `to.stage`, ... hear what is told, and what was told and tapped so far. */
export function listen(to) {
  document.removeEventListener('click', hold, true)
  html.dataset.wired = ''
  listeners = {...to, tap: tapAgain}
  for (const [name, told] of early) listeners[name](...told)
}

document.addEventListener('click', hold, true)

export const engine = createEngine({onState: tell('state'), onStage: tell('stage')})
export const store = openStorage({onTrouble: tell('trouble'), onOther: tell('other')})
export const state = createState(store, {in: given('demo-job'), mm: given('demo-job-mm')}, tell('change'))
export const views = createViews(document.body, {onGo: tell('go')})
export const answer = createPlan($('#plan'), {onProblem: tell('problem')})

/** The last answer to the job in hand; null when there is none. */
export const last = ((stored) => (stored?.job === state.draft.id ? stored : null))(store.answer())
/** The page comes with this job's plan. */
export const built = state.draft.example && state.draft.units === 'in'

/** What the frame of the page says of the job in hand. */
export function showFrame() {
  html.dataset.way = state.way
  html.dataset.lot = state.draft.example ? 'example' : 'own'
  views.show(state.view)
  say($('#title-shown'), state.draft.title.trim() || 'Unnamed lot')
  $(`#units input[value="${state.draft.units}"]`).checked = true
}

/** The stored plan, as far as the page has places for it. */
function paintStored() {
  if (!last && built) return
  for (const of of ['show', 'mechanics']) answer.paint(last?.html ?? {}, of)
}

const lost = () =>
  say($('#boot-text'), 'A part of this page could not be fetched. Check the connection, then load the page again.')

/** The page whole, with what is below and behind the first screen, and wired. */
function finish() {
  for (const later of $$('template.later')) later.replaceWith(later.content)
  paintStored()
  document.head.append(h('script', {type: 'module', src: new URL('./main.js', import.meta.url), onerror: lost}))
}

showFrame()
paintStored()

// A visit begins at the top of the plan: it is seen before the page is whole. A reload goes back to where the person was, a link
// brings a bar above the plan, and on a wide screen the lot stands beside it, so all has to be there first.
const atTop =
  state.view === 'plan' && !location.hash && performance.getEntriesByType('navigation')[0]?.type === 'navigate'
if (atTop && !document.hidden && !matchMedia('(min-width: 60rem)').matches) {
  html.dataset.top = ''
  requestAnimationFrame(() => setTimeout(finish))
} else finish()
