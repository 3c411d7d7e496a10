// What is seen first: the last plan of the last job is on the screen, and the engine begins, before the rest of the
// page is wired.

import {$, $$, around, h, say, seek} from './base/dom.js'
import {isFramed, refuseFrame} from './base/framed.js'
import {State} from './base/state.js'
import {createViews} from './base/views.js'
import {createEngine} from './engine/engine.js'
import {Store} from './kept/storage.js'
import {PLAN} from './plan/link.js'
import {createPlan} from './plan/plan.js'

/** @import {JobDocument, Trouble, Units, View} from './base/types.js' */
/** @import {EngineState, StageTold, StateDetail} from './engine/engine.js' */
/**
 * What is told to whoever listens, and tapped.
 * @typedef {object} Listeners
 * @property {(name: EngineState, detail: StateDetail) => void} state
 * @property {(told: StageTold) => void} stage
 * @property {(lane: string | null) => void} slow
 * @property {(kinds: Trouble[]) => void} trouble
 * @property {(id: string) => void} other
 * @property {(what: 'draft' | 'ui') => void} change
 * @property {(view: View) => void} go
 * @property {(path: string) => void} problem
 */

if (isFramed()) refuseFrame()

const html = document.documentElement

/** What the build wrote into the page. @param {string} id */
function given(id) {
  try {
    return JSON.parse($(`#${id}`).textContent ?? '')
  } catch {
    return null
  }
}

/** What was told, and tapped, before the rest of the page listened. @type {((to: Listeners) => void)[]} */
const early = []
/** @type {Listeners | null} */
let listeners = null
/** @param {(to: Listeners) => void} told */
function tell(told) {
  if (listeners) told(listeners)
  else early.push(told)
}
/** @param {MouseEvent} event */
function hold(event) {
  if (around(event.target, 'a[href$=".html"]')) return // the way to another page needs nothing of this one
  event.preventDefault()
  event.stopPropagation()
  const tapped = around(event.target, 'button, summary, label, a') ?? event.target
  if (tapped instanceof HTMLElement) early.push(tapAgain.bind(null, tapped, tapped.outerHTML))
}
/**
 * What was tapped; where it was painted anew meanwhile, the same as it was. What is the same no more is not tapped.
 * @param {HTMLElement} tapped
 * @param {string} html
 */
function tapAgain(tapped, html) {
  const now = tapped.isConnected ? tapped : $$(tapped.localName).find((one) => one.outerHTML === html)
  now?.click()
}

/**
 * From now on `to.state`, `to.stage`, ... hear what is told, and what was told and tapped so far.
 * @param {Listeners} to
 */
export function listen(to) {
  document.removeEventListener('click', hold, true)
  html.dataset.wired = ''
  listeners = to
  for (const told of early) told(to)
}

document.addEventListener('click', hold, true)

// Whatever stops the page before it is wired: what is stored can be saved, and the page says so.
window.addEventListener('error', ({message}) => {
  if (!message || 'wired' in html.dataset) return
  const failed = $('#boot-failed')
  say($('#boot-reason', failed), `A part of the page does not work: ${message}`)
  $('.actions', failed).hidden = true
  failed.hidden = false
  $('#boot').hidden = true
})

export const engine = createEngine({
  onState: (name, detail) => tell((to) => to.state(name, detail)),
  onStage: (told) => tell((to) => to.stage(told)),
  onSlow: (lane) => tell((to) => to.slow(lane)),
})
export const store = new Store({
  onTrouble: (kinds) => tell((to) => to.trouble(kinds)),
  onOther: (id) => tell((to) => to.other(id)),
})
/** @type {Partial<Record<Units, JobDocument | null>>} */
const examples = {in: given('demo-job'), mm: given('demo-job-mm')}
export const state = new State(store, examples, (what) => tell((to) => to.change(what)))
const views = createViews(document.body, {onGo: (view) => tell((to) => to.go(view))})
export const answer = createPlan($('#plan'), {onProblem: (path) => tell((to) => to.problem(path))})

/** The last answer to the job in hand; null when there is none. */
export const last = ((stored) => (stored?.job === state.draft.id ? stored : null))(store.answer())
/** The page comes with this job's plan. */
export const built = state.draft.example && state.draft.units === 'in'

/** What the frame of the page says of the job in hand. */
export function showFrame() {
  html.dataset.way = state.way
  html.dataset.lot = state.draft.example ? 'example' : 'own'
  if (!state.draft.example) delete html.dataset.arriving
  views.show(state.view)
  const arriving = html.dataset.arriving === 'yes'
  const title = (arriving ? 'A plan is being opened' : state.draft.title.trim()) || 'Unnamed lot'
  say($('#title-shown'), title)
  const here = arriving ? null : seek(`#${state.view} h1`)?.textContent
  document.title = [here, title, 'Thickset'].filter(Boolean).join(' · ')
}

/** The stored plan, as far as the page has places for it. */
function paintStored() {
  if (!last && built) return
  for (const of of /** @type {const} */ (['show', 'mechanics'])) answer.paint(last?.html ?? {}, of)
}

const lost = () =>
  say($('#boot-text'), 'A part of this page could not be fetched. Check the connection, then load the page again.')

/** The page whole, with what is below and behind the first screen, and wired. */
function finish() {
  for (const later of $$('template.later', document, HTMLTemplateElement)) later.replaceWith(later.content)
  paintStored()
  document.head.append(h('script', {type: 'module', src: new URL('./main.js', import.meta.url).href, onerror: lost}))
}

// Where a link brings the first plan of this device, the example never stands in its place.
if (location.hash.startsWith(PLAN) && state.isEmpty) html.dataset.arriving = 'yes'
showFrame()
paintStored()

// A visit begins at the top of the plan: it is seen before the page is whole. A reload goes back to where the person
// was, a link brings a bar above the plan, and on a wide screen the lot stands beside it, so all has to be there first.
const visit = /** @type {PerformanceNavigationTiming | undefined} */ (performance.getEntriesByType('navigation')[0])
const atTop = state.view === 'plan' && !location.hash && visit?.type === 'navigate'
if (atTop && !document.hidden && !matchMedia('(min-width: 60rem)').matches) {
  html.dataset.top = ''
  requestAnimationFrame(() => setTimeout(finish))
} else finish()
