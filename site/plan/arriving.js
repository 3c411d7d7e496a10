// A plan that came with the address: read by the core, told in a bar, opened or left by the person.

import {fromDocument, toDocument} from '../base/document.js'
import {$} from '../base/dom.js'
import {runOf, tally} from '../base/job.js'
import {createIncoming} from './incoming.js'
import {PLAN} from './link.js'

/** @import {Ask, Draft, JobDocument, State, Store} from '../base/types.js' */

/** This page without what came with its address. */
export const HERE = `${location.origin}${location.pathname}`

/** @param {Draft} draft */
const textOf = (draft) => JSON.stringify(toDocument(draft).job)

/** What a plan is, in a few words. @param {Draft} draft */
function aboutOf(draft) {
  const {total} = tally(draft)
  const what = [
    draft.title.trim() || 'Unnamed lot',
    total > 0 && (total === 1 ? '1 board' : `${total} boards`),
    runOf(draft).length > 0 && 'with its run',
  ]
  return what.filter(Boolean).join(', ')
}

/** @param {State} state @param {Store} store @param {{ask: Ask}} core */
export function createArriving(state, store, {ask}) {
  const bar = createIncoming($('#incoming'))
  const page = document.documentElement
  let ready = false

  function leave() {
    bar.hide()
    history.replaceState(null, '', HERE)
    if (!page.dataset.arriving) return
    delete page.dataset.arriving
    state.turn({})
  }

  async function takeIn() {
    const link = location.hash
    if (!link.startsWith(PLAN)) return
    // The example never stands where it could be taken for the plan that comes.
    if (state.isEmpty && page.dataset.arriving !== 'yes') {
      page.dataset.arriving = 'yes'
      state.turn({})
    }
    if (!ready) {
      bar.tell('A plan came with this address. It is shown as soon as the planner is ready.', [['Leave it', leave]])
      return
    }
    const said = await ask({ask: 'open', link}, 'open')
    if (!said || link !== location.hash) return
    if (said.ok) takeOrOffer(said.job)
    else {
      page.dataset.arriving &&= 'refused'
      state.turn({})
      bar.tell(said.problems[0].text, [
        ['Open a file', () => $('#open-job').click()],
        ['Close', leave],
      ])
    }
  }

  /** @param {JobDocument} job */
  function takeOrOffer(job) {
    const draft = {...fromDocument(job), touched: Date.now()}
    const same = store.jobs().find((one) => textOf(one) === textOf(draft))
    const open = () => {
      leave()
      state.open(same ?? draft, {view: runOf(draft).length ? 'run' : 'plan'})
    }
    if (state.isEmpty) return open()
    bar.tell(
      same
        ? `The plan of this address is among your jobs already: ${aboutOf(draft)}.`
        : `A plan came with this address: ${aboutOf(draft)}. Your own jobs stay as they are.`,
      [
        [same ? 'Open it' : 'Open as a new job', open],
        ['Leave it', leave],
      ],
    )
  }

  window.addEventListener('hashchange', takeIn)
  takeIn()
  return {
    /** The core answers from now on. */
    ready() {
      ready = true
      takeIn()
    },
  }
}
