// The next lot starts from what a run taught, and so does the planer that is kept under this name.

import {recordOf, withRecord} from '../base/job.js'

/** @import {Ask, JobDocument, OfferUndo, State, Store} from '../base/types.js' */
/**
 * `place()` gives the job document.
 * @typedef {object} Parts
 * @property {Ask} ask
 * @property {() => JobDocument} place
 * @property {import('./jobs_here.js').Keeping} keeping
 * @property {import('../planer/planers_here.js').Shop} shop
 * @property {OfferUndo} offerUndo
 */

/** @param {State} state @param {Parts} parts */
export async function learn(state, {ask, place, keeping, shop}) {
  const old = shop.kept()
  if (!old) {
    const said = await ask({ask: 'learn', job: place()}, 'learn')
    if (said?.ok) keeping.newLot(said.record, said.settings)
    return
  }
  const {id, taught, here} = state.draft
  // What was taken back is learned again; a copy taught nothing that the job it was made of had not.
  if (taught && !(here && !shop.book.holds(old, id))) {
    keeping.newLot(old.record ?? null, shop.settingsOf(old), {
      words: `A new lot. What this run taught, ${old.name} had learned before.`,
    })
    return
  }
  const done = await shop.book.write(old, {run: place(), of: id})
  if (!done) return
  state.change({...state.draft, taught: true})
  const {learned} = done
  keeping.newLot(learned.record ?? null, shop.settingsOf(learned), {
    words: `A new lot, and ${old.name} has learned. The one before is kept.`,
    still: () => done.still(),
    onBack() {
      state.change({...state.draft, taught: false})
      done.back()
    },
  })
}

/** The length fed with these knives begins anew. @param {State} state @param {Parts} parts */
export async function newKnives(state, {shop, offerUndo}) {
  const before = state.snapshot()
  const old = shop.kept()
  const record = recordOf(state.draft)
  if (!record) return
  state.change(withRecord(state.draft, {...record, fed: 0}))
  const done = old?.record ? await shop.book.write(old, {add: {kind: 'changed'}}) : null
  shop.show()
  const way = state.backFrom(before)
  offerUndo('The length fed begins anew with these knives.', {
    still: () => way.still() && (!done || done.still()),
    back() {
      way.back()
      done?.back()
    },
  })
}
