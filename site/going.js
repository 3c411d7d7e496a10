// Going about in the page: to one of its parts, or to the field that a problem speaks of.

import {toPartHead} from './base/focus.js'
import {fieldOf, stepsOf} from './base/places.js'

/** @import {State, View} from './base/types.js' */
/**
 * @typedef {object} Parts
 * @property {import('./plan/answers.js').Asking} asking
 * @property {ReturnType<typeof import('./lot/entry.js').createEntry>} entry
 * @property {ReturnType<typeof import('./stock/wire_questions.js').wireQuestions>} questions
 * @property {import('./planer/planers_here.js').Shop} shop
 */

export class Going {
  #state
  #parts

  /** `parts()` gives them: they are made after this. @param {State} state @param {() => Parts} parts */
  constructor(state, parts) {
    this.#state = state
    this.#parts = parts
  }

  /** @param {View} view */
  to(view) {
    const {asking, entry, questions} = this.#parts()
    asking.wantPlan(false)
    entry.away()
    this.#state.turn({view})
    toPartHead()
    asking.turned()
    if (view === 'more') questions.again()
  }

  /** @param {string} path */
  toField(path) {
    const {asking, entry, shop} = this.#parts()
    const steps = stepsOf(path)
    if (steps[0] === 'parts' || steps.includes('defects')) return this.to('more')
    if (path.startsWith('planer.record')) {
      this.to('planer')
      return shop.toRecord()
    }
    const field = fieldOf(asking.places(), path)
    shop.all()
    entry.goTo(field ?? 'target.thickness')
  }

  /** To the first problem, or to the plan where there is none. */
  toFirstProblem() {
    const first = this.#parts().asking.firstProblem()
    if (first === undefined) this.to('plan')
    else this.toField(first)
  }
}
