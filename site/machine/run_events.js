// What happens at the machine becomes part of the run of the job in hand.

import {toDocument} from '../base/document.js'
import {asText, isObject, runOf, withRun} from '../base/job.js'

/** @import {Ask, Problem, RunEvent, State} from '../base/types.js' */

/** A longer pause between two events teaches nothing [s]. */
const LONGEST_PAUSE = 900

/** The names of the boards in the document. @param {State} state */
export function boardNames(state) {
  const {boards} = toDocument(state.draft).job
  const names = Array.isArray(boards) ? boards.filter(isObject).map(({name}) => name) : []
  return names.filter((name) => typeof name === 'string').filter(Boolean)
}

/** The names of those that no event took out of the lot. @param {State} state */
export function boardsLeft(state) {
  const removed = runOf(state.draft).filter((event) => event?.did === 'remove')
  const gone = removed.map(({board}) => board)
  return boardNames(state).filter((name) => !gone.includes(name))
}

/** The names of those that were measured since the last pass. @param {State} state */
export function boardsMeasured(state) {
  const run = runOf(state.draft)
  const last = run.findLastIndex((event) => event?.did === 'feed')
  return run.slice(last + 1).flatMap((event) => (event?.did === 'measure' ? [asText(event.board)] : []))
}

export class RunEvents {
  #state
  #ask
  /** The last event that this page saw: the run with it (as text), its job, and when. */
  #seen = {run: '', job: '', at: 0}
  #measuring = false
  /** What a measurement was asked about, as its question names it: entered again it is meant. @type {string[]} */
  #meant = []

  /** @param {State} state @param {{ask: Ask}} core */
  constructor(state, {ask}) {
    this.#state = state
    this.#ask = ask
  }

  now() {
    return runOf(this.#state.draft)
  }

  /**
   * One more event of the run, with the seconds since the one before where this page saw it.
   * @param {RunEvent} event
   */
  append(event) {
    const {draft} = this.#state
    const run = runOf(draft)
    const now = Date.now()
    const seen = this.#seen.run === JSON.stringify(run) && this.#seen.job === draft.id
    const seconds = seen ? Math.round((now - this.#seen.at) / 1000) : Infinity
    const whole = [...run, seconds <= LONGEST_PAUSE ? {...event, after: seconds} : event]
    this.#seen = {run: JSON.stringify(whole), job: draft.id, at: now}
    this.#state.change({...withRun(draft, whole), here: true})
  }

  /**
   * What was measured becomes an event only when its texts can be read and believed: resolves to their problems, to
   * none once it is one, to null when something else came between. Without the core it is taken as it is.
   * @param {RunEvent} event
   * @returns {Promise<Problem[] | null>}
   */
  async measured(event) {
    if (this.#measuring) return null
    const {id, units} = this.#state.draft
    if (document.documentElement.dataset.engine === 'ready') {
      this.#measuring = true
      const {job} = toDocument(this.#state.draft)
      const boards = boardNames(this.#state)
      const said = await this.#ask({ask: 'event', event, units, boards, job, meant: this.#meant}, 'event')
      this.#measuring = false
      if (!said || this.#state.draft.id !== id) return null
      if (!said.ok) {
        this.#meant = [...this.#meant, ...said.problems.flatMap(({cures}) => cures ?? [])]
        return said.problems
      }
    }
    this.#meant = []
    this.append(event)
    return []
  }

  /** The last event did not happen. */
  undo() {
    this.#state.change({...withRun(this.#state.draft, this.now().slice(0, -1)), here: true})
  }
}
