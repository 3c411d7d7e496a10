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

/** @param {State} state @param {Store} store @param {Parts} parts */
export async function learn(state, store, {ask, place, keeping, shop}) {
  const old = shop.kept()
  if (!old) {
    const said = await ask({ask: 'learn', job: place()}, 'learn')
    if (said?.ok) keeping.newLot(said.record, said.settings)
    return
  }
  if (state.draft.taught) {
    keeping.newLot(old.record, shop.settingsOf(old), {
      words: `A new lot. What this run taught, ${old.name} had learned before.`,
    })
    return
  }
  const said = await ask({ask: 'learn', job: place(), record: old.record}, 'learn')
  if (!said?.ok) return
  state.change({...state.draft, taught: true})
  const learned = shop.teach(old, said)
  keeping.newLot(learned.record, shop.settingsOf(learned), {
    words: `A new lot, and ${old.name} has learned. The one before is kept.`,
    still: () => shop.isKept(learned),
    onBack() {
      state.change({...state.draft, taught: false})
      store.keepPlaner(old)
      shop.show()
    },
  })
}

/** The length fed with these knives begins anew. @param {State} state @param {Store} store @param {Parts} parts */
export function newKnives(state, store, {shop, offerUndo}) {
  const before = state.snapshot()
  const old = shop.kept()
  const record = recordOf(state.draft)
  if (!record) return
  state.change(withRecord(state.draft, {...record, fed: 0}))
  const renewed = old?.record && {...old, record: {...old.record, fed: 0}}
  if (renewed) store.keepPlaner(renewed)
  shop.show()
  const way = state.backFrom(before)
  offerUndo('The length fed begins anew with these knives.', {
    still: () => way.still() && (!renewed || shop.isKept(renewed)),
    back() {
      way.back()
      if (old) store.keepPlaner(old)
      shop.show()
    },
  })
}
