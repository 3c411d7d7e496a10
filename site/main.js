// Wires the page: what is entered goes to the store and to the core, the core's answer onto the page.

import {showFollowing, showTrouble, showUpdate} from './base/bars.js'
import {$, around, say} from './base/dom.js'
import {keepFocus} from './base/focus.js'
import {Taps} from './base/taps.js'
import {createUndo} from './base/undo.js'
import {createBoot} from './engine/boot.js'
import {startOffline} from './engine/offline.js'
import {answer, built, engine, last, listen, showFrame, state, store} from './first.js'
import {Going} from './going.js'
import {bindActions} from './jobs/job_acts.js'
import {Keeping} from './jobs/jobs_here.js'
import {Pen} from './kept/pen.js'
import {createEntry} from './lot/entry.js'
import {createGlance} from './lot/glance.js'
import {createTabling} from './lot/tables.js'
import {isSomethingTyped} from './lot/typed.js'
import {createUnits} from './lot/units.js'
import {createWoods} from './lot/woods.js'
import {createRun} from './machine/run.js'
import {RunEvents} from './machine/run_events.js'
import {Asking} from './plan/answers.js'
import {createPaper} from './plan/paper.js'
import {toPass} from './plan/plan.js'
import {createRehearse} from './plan/rehearse.js'
import {createSharing} from './plan/sharing.js'
import {createWhy} from './plan/why.js'
import {Shop} from './planer/planers_here.js'
import {wireQuestions} from './stock/wire_questions.js'

/** @import {Ask} from './base/types.js' */

/** @type {Ask} */
const ask = (question, lane) => engine.ask(question, lane)
const undo = createUndo($('#undo'))
const offerUndo = undo.offer

const taps = new Taps()
keepFocus()
const going = new Going(state, () => ({asking, entry, questions, shop}))
const boot = createBoot($('#boot'), $('#boot-failed'), $('#working'), () => engine.stopAnswer())
const paper = createPaper($('#paper'), {ask, onTrouble: () => going.to('plan')})
const shop = new Shop($('#planer'), state, store, {ask, offerUndo, onPrint: paper.put})
const entry = createEntry($('main'), $('#pad'), state, {
  offerUndo,
  onDone: () => asking.wantPlan(true),
  onRun: (input) =>
    ([questions.finals, questions.snipe].find(({root}) => root.contains(input)) ?? machine).entered(input),
})
const onTold = () => entry.showDoubt()
const events = new RunEvents(state, {ask})
const machine = createRun($('#run'), {
  onEvent: (event) => events.append(event),
  onMeasured: (event) => events.measured(event),
  onTold,
  onUndo: () => events.undo(),
  runNow: () => events.now(),
  inHand: () => state.draft.id,
  onPass: (number) => {
    going.to('plan')
    toPass(number, $('#plan'))
  },
  onNotTaken: (on) => taps.nudgeOn(on, 'Not taken: the screen had moved on'),
})
const questions = wireQuestions($('#more'), state, store, {ask, events, onTold})
const rehearse = createRehearse($('#rehearse', document, HTMLDetailsElement), {onOpen: () => asking.askRehearse()})
const glance = createGlance($('#at-a-glance'), {onTap: () => going.toFirstProblem()})
const keeping = new Keeping($('#jobs'), state, store, {
  offerUndo,
  onNew: () => entry.fields.focus('target.thickness'),
})
$('#run').append(questions.finals.root)
const sharing = createSharing(state, store, {ask})
const onPlan = () => going.to('plan')
const asking = new Asking(state, store, {
  ...{ask, entry, answer, machine, questions, rehearse, glance, onPlan},
  onFollowed: (job, isThrough) => shop.enterRun(job, isThrough),
})
const place = () => asking.place()
createWoods($('main'), {ask: (text) => ask({ask: 'species', text}, 'species')})
createTabling(state, {ask, offerUndo})
const toFinals = () => {
  going.to('run')
  questions.finals.open()
}
const toSend = () => {
  going.to('plan')
  const send = $('#send')
  if (!send.matches(':popover-open')) send.showPopover()
}
bindActions(state, store, {
  ask,
  restart: () => engine.restart(),
  toSend,
  toFinals,
  place,
  entry,
  keeping,
  paper,
  shop,
  offerUndo,
})
createWhy($('#why', document, HTMLDialogElement), $('main'), {
  ask: (what) => {
    const ofForm = questions.question(what) ?? shop.question(what)
    const question = ofForm ?? {job: JSON.parse(asking.painted() || '{}'), what}
    return ask({ask: 'why', units: state.draft.units, ...question}, 'why')
  },
})

const units = createUnits($('#units'), state, {onChosen: () => entry.fields.focus('target.thickness')})
const pen = new Pen({
  onGive: () => store.flush(),
  onChange(got) {
    state.follows = !got
    for (const part of ['lot', 'planer', 'run', 'more']) $(`#${part}`).inert = !got
    showFollowing($('#pen'), !got, () => pen.take())
    if (got) state.adopt(state.draft.id)
    else show()
  },
})

/** The parts of the page, in the order in which they are shown. */
const parts = [
  showFrame,
  () => pen.hold(state.draft.example ? '' : state.draft.id),
  () => units.show(),
  () => {
    $(`#way input[value="${state.way}"]`, document, HTMLInputElement).checked = true
  },
  () => machine.show(state.view === 'run'),
  () => entry.show(),
  () => (state.view === 'more' || state.view === 'run') && questions.show(),
  () => state.view === 'jobs' && keeping.show(),
  () => state.view === 'planer' && shop.show(),
  () => undo.check(),
  () => asking.place(),
  () => sharing.show(),
  () => asking.tell(),
]

/** A part that cannot be shown, whatever is stored, stops no other. */
function show() {
  for (const part of parts) {
    try {
      part()
    } catch (error) {
      reportError(error)
      showTrouble($('#trouble'), ['unshown'])
    }
  }
}

$('#way').addEventListener('change', ({target}) => {
  state.turn({way: around(target, 'input', HTMLInputElement)?.value === 'boards' ? 'boards' : 'pile'})
})
window.addEventListener('beforeunload', (event) => {
  store.flush()
  if (store.unsaved()) event.preventDefault()
})

asking.begin(last, built)
show()
asking.showPlanState()
listen({
  state(name, detail) {
    boot.state(name, detail)
    if (name === 'ready') {
      asking.plan()
      sharing.ready()
      if (state.view === 'more') questions.again()
    } else asking.showPlanState()
  },
  stage: (told) => boot.stage(told),
  slow: (lane) => boot.slow(lane),
  trouble: (kinds) => showTrouble($('#trouble'), kinds),
  other: (id) => state.adopt(id),
  change(what) {
    show()
    if (what === 'draft') {
      asking.wantPlan(false)
      asking.plan()
    }
  },
  go: (view) => going.to(view),
  problem: (path) => going.toField(path),
})

const offline = startOffline({
  onReady: ({rest}) =>
    say(
      $('#offline'),
      rest
        ? 'Ready without a network.'
        : 'Ready without a network, but for a part that is rarely needed: as this device saves data, it is fetched then.',
    ),
  onProgress: ({loaded, total}) =>
    total && say($('#offline'), `Kept for use without a network: ${Math.floor((100 * loaded) / total)} %`),
  onLacking: () =>
    say(
      $('#offline'),
      'This window cannot keep the page for use without a network; another browser, or one that is not private, may.',
    ),
  onUpdateWaiting: () => showUpdate($('#update'), () => offline.applyUpdate()),
  way: () => engine.way(),
  hasUnsavedWork() {
    store.flush()
    return store.unsaved() || isSomethingTyped($('main'), state)
  },
})
