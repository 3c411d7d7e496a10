// Asks the core about the job as it is, and puts what it says onto the page: beside the fields, as the plan, at the
// machine.

import {toDocument} from '../base/document.js'
import {$$} from '../base/dom.js'
import {told} from '../base/focus.js'
import {isBlank, pileBegun, runOf, tally} from '../base/job.js'

/** @import {Answer, Ask, Draft, Html, JobDocument, KeptAnswer, Place, State, Store} from '../base/types.js' */
/**
 * The parts that show an answer; `onPlan()`: the plan wants to be in view; `onFollowed(job, isThrough)`: how far its run is.
 * @typedef {object} Parts
 * @property {Ask} ask
 * @property {ReturnType<typeof import('../lot/entry.js').createEntry>} entry
 * @property {ReturnType<typeof import('./plan.js').createPlan>} answer
 * @property {ReturnType<typeof import('../machine/run.js').createRun>} machine
 * @property {ReturnType<typeof import('../stock/questions.js').createQuestions>} questions
 * @property {ReturnType<typeof import('./rehearse.js').createRehearse>} rehearse
 * @property {ReturnType<typeof import('../lot/glance.js').createGlance>} glance
 * @property {() => void} onPlan
 * @property {(job: JobDocument, isThrough: boolean) => void} onFollowed
 */

const page = document.documentElement
/** How long nothing else is entered before it is said what became of it [ms]. */
const QUIET = 1000

export class Asking {
  #state
  #store
  #parts
  /** The last answer, and the document (as text) it answers. @type {Answer<'show'> | null} */
  #last = null
  #asked = ''
  /** The document whose plan is on the page, and what the core made of it. */
  #painted = ''
  /** @type {Html} */
  #html = {}
  /**
   * The draft's document, and where each field stands in it; made once for each draft.
   * @type {{of: Draft, job: JobDocument, places: Place[]} | null}
   */
  #made = null
  /** The job whose answers are on the page, as `state.opened` counts. */
  #shownOf
  /** The last of the five numbers was entered: the plan comes into view once it is there. */
  #planWanted = false
  #telling = 0
  /** The first problem that is more than a field nobody has come to yet. */
  #toldFirst = ''

  /** @param {State} state @param {Store} store @param {Parts} parts */
  constructor(state, store, parts) {
    this.#state = state
    this.#store = store
    this.#parts = parts
    this.#shownOf = state.opened
  }

  /**
   * Before the engine: `last` is the stored answer that is on the page, or null; `built`: the page came with the plan.
   * @param {Partial<KeptAnswer> | null} last
   * @param {boolean} built
   */
  begin(last, built) {
    this.#asked = JSON.stringify(this.place())
    if (last) {
      this.#parts.machine.paint(last.html?.run ?? '', [], last.of === this.#asked)
      this.#painted = last.of ?? ''
    } else if (built) this.#painted = this.#asked
  }

  /** Gives every field its place in the document, and returns the document. */
  place() {
    const {draft, hand} = this.#state
    if (this.#made?.of !== draft) this.#made = {of: draft, ...toDocument(draft)}
    const path = new Map(this.#made.places)
    this.#parts.entry.fields.place((field) => {
      if (field === 'board.entry' && hand.chosen !== null) return path.get(`b:${hand.board}.readings.${hand.chosen}`)
      return path.get(field.startsWith('board.') ? `b:${hand.board}.${field.slice(6)}` : field)
    })
    return this.#made.job
  }

  /** Where each field stands in the document, as place() found. */
  places() {
    return this.#made?.places ?? []
  }

  /** The document, as text, whose plan is on the page. */
  painted() {
    return this.#painted
  }

  /** Where the first of the problems is; undefined when there is none. */
  firstProblem() {
    return this.#last?.ok === false ? this.#last.problems?.[0]?.at : undefined
  }

  // ------------------------------------------------------------ asking

  async plan() {
    const job = this.place()
    const text = JSON.stringify(job)
    if (isBlank(this.#state.draft)) {
      this.#asked = text
      this.#take({ok: true, html: {}, understood: {}}, text)
      return
    }
    if (text === this.#asked && this.#last) {
      this.#tellAll()
      return
    }
    this.#asked = text
    if (page.dataset.engine !== 'ready') this.#wipeOther()
    this.showPlanState()
    this.#parts.machine.busy = true
    const said = await this.#parts.ask({ask: 'show', job, ...pileOf(this.#state.draft)})
    if (!said && text === this.#asked) this.#last = null // it was not answered: the next start asks again
    if (said && text === this.#asked) {
      if (!said.ok) this.#wipeOther()
      this.#parts.machine.busy = said.ok
      this.#take(said, text)
      if (said.ok) {
        this.#follow(job, text)
        this.#showMechanics(job, text)
      }
    }
    this.#askMore()
  }

  async askRehearse() {
    if (this.#last?.ok !== true) return
    const text = this.#asked
    const said = await this.#parts.ask({ask: 'rehearse', job: this.place()}, 'rehearse')
    if (said?.ok && text === this.#asked) this.#parts.rehearse.show(said.frames)
  }

  /** Another part of the page is in view. */
  turned() {
    if (this.#state.view === 'run' && this.#last?.ok) this.#follow(this.place(), this.#asked)
    this.#askMore()
  }

  /** What stands beside the plan: asked for only while one is there. */
  async #askMore() {
    if (this.#state.view !== 'more' || this.#last?.ok !== true) return
    const said = await this.#parts.ask({ask: 'more', job: this.place()}, 'more')
    if (said) this.#parts.questions.paint(said.html ?? {}, said.ok ? '' : said.problems[0]?.text)
  }

  /**
   * The run screen: asked for once one is at the machine or a run is begun.
   * @param {JobDocument} job
   * @param {string} text
   */
  async #follow(job, text) {
    if (this.#state.view !== 'run' && !runOf(this.#state.draft).length) {
      this.#parts.machine.busy = false
      return
    }
    this.#parts.machine.busy = true
    const said = await this.#parts.ask({ask: 'follow', job}, 'run')
    if (!said || text !== this.#asked) return
    this.#parts.machine.paint(said.html?.run ?? '', said.ok ? [] : said.problems)
    this.#keep(said.html, text)
    if (said.ok) this.#parts.onFollowed(job, said.run.step.kind === 'done')
  }

  /** @param {JobDocument} job @param {string} text */
  async #showMechanics(job, text) {
    const said = await this.#parts.ask({ask: 'mechanics', job}, 'mechanics')
    if (!said?.ok || text !== this.#asked) return
    this.#parts.answer.paint(said.html, 'mechanics')
    this.#keep(said.html, text)
  }

  // ------------------------------------------------------------ showing

  /** Nothing of another job stays on the page: it would be taken for this one's. */
  #wipeOther() {
    const {answer, machine, rehearse} = this.#parts
    if (this.#shownOf === this.#state.opened) return
    this.#shownOf = this.#state.opened
    this.#painted = ''
    this.#html = {}
    answer.paint({})
    answer.paint({}, 'mechanics')
    machine.paint('')
    rehearse.show([''])
  }

  /** @param {Answer<'show'>} said @param {string} text */
  #take(said, text) {
    const {answer, rehearse} = this.#parts
    this.#last = said
    if (said.ok) {
      this.#shownOf = this.#state.opened
      this.#html = {}
      answer.paint(said.html ?? {})
      if (isBlank(this.#state.draft)) answer.paint({}, 'mechanics')
      rehearse.renew()
      this.#painted = text
      this.#keep(said.html, text)
    }
    this.#tellAll()
    this.#seePlan()
    clearTimeout(this.#telling)
    if (this.#state.view !== 'run') this.#telling = setTimeout(() => this.#sayPlan(), QUIET)
  }

  /** What became of what was entered is said to whoever does not see it. */
  #sayPlan() {
    const problem = this.#toldFirst
    if (problem) told(`Not planned yet. ${problem}`)
    else if (page.dataset.plan === 'fresh') told(`Planned. ${inShort()}`)
  }

  /** The whole answer is kept for the next visit's first paint. @param {Html | undefined} more @param {string} text */
  #keep(more, text) {
    this.#html = {...this.#html, ...more}
    this.#store.keepAnswer({job: this.#state.draft.id, of: text, html: this.#html})
  }

  /** The plan comes into view once it is there, or no more. @param {boolean} wanted */
  wantPlan(wanted) {
    this.#planWanted = wanted
    this.#seePlan()
  }

  #seePlan() {
    if (!this.#planWanted || this.#painted !== this.#asked) return
    this.#planWanted = false
    this.#parts.onPlan()
  }

  /** The last answer, where there is one, beside the fields, in the list of problems and at a glance. */
  tell() {
    if (this.#last) this.#tellAll()
  }

  #tellAll() {
    const {entry, answer, glance} = this.#parts
    const last = this.#last
    const problems = last?.ok === false ? last.problems : []
    const notes = last?.ok ? last.plan?.notes : []
    const {awaited, wrong, told} = entry.tell(last?.understood ?? {}, problems, notes ?? [], this.places())
    entry.showDoubt()
    answer.problems(told, wrong.length ? 'Not planned yet' : 'Still to enter')
    this.showPlanState()
    this.#toldFirst = wrong[0] ?? ''
    if (wrong.length) glance.show(wrong[0], 'missing')
    else if (awaited.length) glance.show(`Still to enter: ${awaited.join(', ')}`, 'missing')
    else glance.show(inShort(), 'plan')
  }

  showPlanState() {
    const {answer} = this.#parts
    const engine = page.dataset.engine
    if (isBlank(this.#state.draft)) answer.state('blank')
    else if (this.#painted === this.#asked) answer.state('fresh')
    else if (engine === 'failed') answer.state('stopped')
    else if (engine !== 'ready') answer.state('starting')
    else answer.state(this.#last?.ok === false ? 'stale' : 'waiting')
  }
}

/** The pile's two spots as they were entered, where they stand for boards. @param {Draft} draft */
function pileOf(draft) {
  const {thickest, thinnest} = draft.pile
  return pileBegun(draft) && tally(draft).left !== 0 ? {pile: {thickest, thinnest}} : {}
}

/** The plan that is on the page, in a line. */
function inShort() {
  const lines = $$('[data-show="summary"] p').slice(0, 2)
  return lines.map((line) => line.textContent).join(' · ')
}
