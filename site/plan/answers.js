// Asks the core about the job as it is, and puts what it says onto the page: beside the fields, as the plan, at the machine.

import {$$} from '../base/dom.js'
import {isBlank, runOf} from '../base/job.js'
import {toDocument} from '../base/document.js'

const page = document.documentElement

/** `ask(request, lane)` asks the core. The rest are the parts that show an answer; `onPlan()`: the plan wants to be in view. */
export function createAsking(state, store, {ask, entry, answer, machine, more, rehearse, glance, onPlan}) {
  /** The last answer, and the document (as text) it answers; `painted` is the document whose plan is on the page. */
  let last = null
  let asked = ''
  let painted = ''
  let places = []
  let made = {}
  /** The job whose answers are on the page, as `state.opened` counts. */
  let shownOf = state.opened
  /** What the core made of the document in `painted`. */
  let html = {}
  /** The last of the five numbers was entered: the plan comes into view once it is there. */
  let planWanted = false

  /** Gives every field its place in the document, and returns the document; made once for each draft. */
  function place() {
    if (made.of !== state.draft) made = {of: state.draft, ...toDocument(state.draft)}
    places = made.places
    const path = new Map(places)
    entry.fields.place((field) => {
      const {board, chosen} = state.hand
      if (field === 'board.entry' && chosen !== null) return path.get(`b:${board}.readings.${chosen}`)
      return path.get(field.startsWith('board.') ? `b:${board}.${field.slice(6)}` : field)
    })
    return made.job
  }

  async function plan() {
    const job = place()
    const text = JSON.stringify(job)
    if (isBlank(state.draft)) {
      asked = text
      take({ok: true, html: {}, understood: {}}, text)
      return
    }
    if (text === asked && last) {
      tell()
      return
    }
    asked = text
    if (page.dataset.engine !== 'ready') wipeOther()
    showPlanState()
    const said = await ask({ask: 'show', job})
    if (said?.ok === false && text === asked) wipeOther()
    if (said && text === asked) take(said, text)
    if (said?.ok && text === asked) {
      follow(job, text)
      showMechanics(job, text)
    }
    askMore()
  }

  /** Nothing of another job stays on the page: it would be taken for this one's. */
  function wipeOther() {
    if (shownOf === state.opened) return
    shownOf = state.opened
    painted = ''
    html = {}
    answer.paint({})
    answer.paint({}, 'mechanics')
    machine.paint('')
    rehearse.show([''])
  }

  async function askRehearse() {
    if (last?.ok !== true) return
    const text = asked
    const said = await ask({ask: 'rehearse', job: place()}, 'rehearse')
    if (said?.ok && text === asked) rehearse.show(said.frames)
  }

  /** What stands beside the plan: asked for only while one is there. */
  async function askMore() {
    if (state.view !== 'more' || last?.ok !== true) return
    const said = await ask({ask: 'more', job: place()}, 'more')
    if (said) more.paint(said.html ?? {}, said.problems?.[0]?.text ?? '')
  }

  /** The run screen: asked for once one is at the machine or a run is begun. */
  async function follow(job, text) {
    if (state.view !== 'run' && !runOf(state.draft).length) return
    const said = await ask({ask: 'follow', job}, 'run')
    if (!said || text !== asked) return
    machine.paint(said.html?.run ?? '', said.problems ?? [])
    keep(said.html, text)
  }

  async function showMechanics(job, text) {
    const said = await ask({ask: 'mechanics', job}, 'mechanics')
    if (!said?.ok || text !== asked) return
    answer.paint(said.html, 'mechanics')
    keep(said.html, text)
  }

  /** The whole answer is kept for the next visit's first paint. */
  function keep(more, text) {
    html = {...html, ...more}
    store.keepAnswer({job: state.draft.id, of: text, html})
  }

  function take(said, text) {
    last = said
    if (said.ok) {
      shownOf = state.opened
      html = {}
      answer.paint(said.html ?? {})
      if (isBlank(state.draft)) answer.paint({}, 'mechanics')
      rehearse.renew()
      painted = text
      keep(said.html ?? {}, text)
    }
    tell()
    seePlan()
  }

  function seePlan() {
    if (!planWanted || painted !== asked) return
    planWanted = false
    onPlan()
  }

  /** The last answer beside the fields, in the list of problems and at a glance. */
  function tell() {
    const problems =
      last?.ok === false ? (last.problems ?? []).map((one) => ({...one, about: last.about?.[one.at]})) : []
    const {awaited, wrong, told} = entry.fields.tell(last?.understood ?? {}, problems)
    entry.showDoubt()
    answer.problems(told, wrong.length ? 'Not planned yet' : 'Still to enter')
    showPlanState()
    if (wrong.length) glance.show(wrong[0], 'missing')
    else if (awaited.length) glance.show(`Still to enter: ${awaited.join(', ')}`, 'missing')
    else
      glance.show(
        $$('[data-show="summary"] p')
          .slice(0, 2)
          .map((line) => line.textContent)
          .join(' · '),
        'plan',
      )
  }

  function showPlanState() {
    const engineState = page.dataset.engine
    if (isBlank(state.draft)) answer.state('blank')
    else if (painted === asked) answer.state('fresh')
    else if (engineState === 'failed') answer.state('stopped')
    else if (engineState !== 'ready') answer.state('starting')
    else answer.state(last?.ok === false ? 'stale' : 'waiting')
  }

  return {
    plan,
    place,
    askRehearse,
    showPlanState,
    /** Where each field stands in the document, as place() found. */
    places: () => places,
    /** The document, as text, whose plan is on the page. */
    painted: () => painted,
    /** Where the first of the problems is; undefined when there is none. */
    firstProblem: () => last?.problems?.[0]?.at,
    /** The plan comes into view once it is there, or no more. */
    wantPlan(wanted) {
      planWanted = wanted
      seePlan()
    },
    tell: () => last && tell(),
    /** Another part of the page is in view. */
    turned() {
      if (state.view === 'run' && last?.ok) follow(place(), asked)
      askMore()
    },
    /** Before the engine: `last` is the stored answer that is on the page, or null; `built`: the page came with the plan. */
    begin(last, built) {
      asked = JSON.stringify(place())
      if (last) {
        machine.paint(last.html?.run ?? '', [], last.of === asked)
        painted = last.of ?? ''
      } else if (built) painted = asked
    },
  }
}
