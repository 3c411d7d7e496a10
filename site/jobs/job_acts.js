// What the buttons do that act on a whole job. Each names what it does with data-do.

import {fromDocument} from '../base/document.js'
import {$, around} from '../base/dom.js'
import {learn, newKnives} from './learning.js'

/** @import {State, Store} from '../base/types.js' */
/**
 * The parts that act, with those of learning.js.
 * @typedef {object} ActionParts
 * @property {() => void} restart the engine
 * @property {() => void} toSend to where the job is handed over
 * @property {() => void} toFinals to where what came out is entered
 * @property {ReturnType<typeof import('../lot/entry.js').createEntry>} entry
 * @property {ReturnType<typeof import('../plan/paper.js').createPaper>} paper
 */
/** @typedef {import('./learning.js').Parts & ActionParts} Parts */

/** @param {State} state @param {Store} store @param {Parts} parts */
export function bindActions(state, store, parts) {
  const {place, keeping, entry, paper, toSend, toFinals} = parts
  /** @type {Record<string, (button: HTMLElement) => void>} */
  const actions = {
    'own-lot': () => {
      const {settings, record} = parts.shop.forNextLot()
      keeping.newLot(record ?? null, settings)
    },
    'split-job': () => splitJob(state, store, parts),
    learn: () => learn(state, parts),
    'take-today': ({dataset}) => takeToday(state, dataset.thickness ?? '', parts),
    'new-knives': () => newKnives(state, parts),
    'save-job': () => keeping.save(),
    'save-all': () => keeping.saveAll(),
    'next-board': () => entry.nextBoard(),
    'copy-board': () => entry.copyBoard(),
    'delete-board': () => entry.deleteBoard(),
    'board-before': () => entry.neighbor(-1),
    'board-after': () => entry.neighbor(1),
    'see-example': () => $('#answer').scrollIntoView({block: 'start'}),
    print: () => paper.print('sheet', place()),
    'to-send': () => toSend(),
    'enter-finals': () => toFinals(),
    'print-sheet': () => paper.print('sheet', place()),
    'print-tags': () => paper.print('tags', place()),
    'print-report': () => paper.print('report', place()),
    restart: () => parts.restart(),
    'go-on': () => {
      $('#boot-failed').hidden = true
    },
  }
  document.addEventListener('click', ({target}) => {
    const button = around(target, '[data-do]')
    if (button) actions[button.dataset.do ?? '']?.(button)
  })
}

/** One lot becomes two jobs; the whole one is kept. @param {State} state @param {Store} store @param {Parts} parts */
async function splitJob(state, store, {ask, place, offerUndo}) {
  const before = state.snapshot()
  const said = await ask({ask: 'split', job: place()}, 'split')
  if (!said?.ok) return
  const [one, two] = said.jobs.map((job) => ({...fromDocument(job), touched: Date.now()}))
  store.keepJob(two)
  state.open(one, {view: 'plan'})
  offerUndo(`Two jobs are made, “${one.title}” and “${two.title}”. The whole lot is kept.`, state.backTo(before, [two]))
}

/**
 * The target becomes what to plane to today; what it was is wanted in service.
 * @param {State} state
 * @param {string} thickness
 * @param {Parts} parts
 */
function takeToday(state, thickness, {offerUndo}) {
  if (state.follows) return
  const before = state.snapshot()
  const {settings} = state.draft
  const wanted = settings['service.thickness']?.trim() || settings['target.thickness']
  state.change({
    ...state.draft,
    settings: {...settings, 'target.thickness': thickness, 'service.thickness': wanted},
  })
  offerUndo(`The target is ${thickness} today, for ${wanted} in service.`, state.backFrom(before))
}
