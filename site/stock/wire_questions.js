// Beside the plan: wires its questions, the parts, the bad stretches, what came out and the snipe to the state and the
// store.

import {defectsOf, partsOf, runOf, withDefects, withParts} from '../base/job.js'
import {aboutMm} from '../base/lengths.js'
import {createSpots} from '../lot/spots.js'
import {Finals} from '../machine/finals.js'
import {boardNames, boardsLeft, boardsMeasured} from '../machine/run_events.js'
import {createSnipe} from '../machine/snipe.js'
import {Defects} from './defects.js'
import {createQuestions} from './questions.js'

/** @import {Ask, State, Store} from '../base/types.js' */
/** @import {RunEvents} from '../machine/run_events.js' */

/**
 * `onTold()`: what is wrong with what was measured stands at its fields.
 * @param {HTMLElement} root
 * @param {State} state
 * @param {Store} store
 * @param {{ask: Ask, events: RunEvents, onTold: () => void}} handlers
 */
export function wireQuestions(root, state, store, {ask, events, onTold}) {
  const defects = new Defects({onDefects: (list) => state.change(withDefects(state.draft, list))})
  const finals = new Finals({
    spots: createSpots,
    onFinal: (board, readings, places) =>
      events.measured({did: 'measure', board, readings, ...(places.length ? {places} : {})}),
    onTold,
  })
  const snipe = createSnipe({
    onSnipe: (lead, trail) => events.measured({did: 'snipe', lead, trail}),
    onTold,
  })
  const questions = createQuestions(root, {
    defects,
    snipe,
    forms: () => store.forms(state.draft.units),
    onForm: (name, texts) => store.keepForm(state.draft.units, name, texts),
    onParts: (parts) => state.change(withParts(state.draft, parts)),
    onAsk: (lane, question) => ask({...question, units: state.draft.units}, lane),
  })
  return {
    ...questions,
    finals,
    snipe,
    /** What the job in hand has of all this. */
    show() {
      const {draft} = state
      questions.show(partsOf(draft))
      const run = runOf(draft)
      const written = run.filter((event) => event?.did === 'retarget').at(-1)?.thickness
      const target = String(written ?? draft.settings['target.thickness'] ?? '')
      snipe.root.hidden = run.length === 0
      finals.show({
        job: draft.id,
        names: boardsLeft(state),
        measured: boardsMeasured(state),
        events: run.length,
        target: aboutMm(target, draft.units) || 0,
        written: target,
      })
      defects.show(defectsOf(draft), boardNames(state))
    },
  }
}
