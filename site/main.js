// Wires the page: what is entered goes to the store and to the core, the core's answer onto the page.

import {answer, built, engine, given, last, listen, showFrame, state, store, views} from './first.js'
import {startOffline} from './engine/offline.js'
import {$, say} from './base/dom.js'
import {createActing} from './jobs/job_acts.js'
import {createAsking} from './plan/answers.js'
import {createEntry} from './lot/entry.js'
import {createHanding} from './plan/sharing.js'
import {createKeeping} from './jobs/jobs_here.js'
import {defectsOf, partsOf, runOf, withDefects, withParts, withRun, withUnits} from './base/job.js'
import {toDocument} from './base/document.js'
import {aboutMm} from './base/lengths.js'
import {createShop} from './planer/planers_here.js'
import {createTabling} from './lot/tables.js'
import {createBoot} from './engine/boot.js'
import {createDefects} from './stock/defects.js'
import {createFinals} from './machine/finals.js'
import {createGlance} from './lot/glance.js'
import {createMore} from './stock/questions.js'
import {showTrouble, showUpdate} from './base/bars.js'
import {createPaper} from './plan/paper.js'
import {createRehearse} from './plan/rehearse.js'
import {createRun} from './machine/run.js'
import {createSpots} from './lot/spots.js'
import {createUndo} from './base/undo.js'
import {createWhy} from './plan/why.js'
import {createWoods} from './lot/woods.js'

const html = document.documentElement
const ask = (request, lane) => engine.ask(request, lane)

const undo = createUndo($('#undo'))
const boot = createBoot($('#boot'), $('#boot-failed'))
const shop = createShop($('#planer'), state, store, {ask, offerUndo: undo.offer})
createWoods($('main'), {ask: (text) => ask({ask: 'species', text}, 'species')})
createWhy($('#why'), $('main'), {
  ask: (what) =>
    ask(
      {
        ask: 'why',
        units: state.draft.units,
        ...(more.question(what) ?? shop.question(what) ?? {job: JSON.parse(asking.painted() || '{}'), what}),
      },
      'why',
    ),
})
const entry = createEntry($('main'), $('#pad'), state, {
  defaults: given('defaults') ?? {},
  offerUndo: undo.offer,
  onDone: () => asking.wantPlan(true),
  onRun: (input) => (finals.root.contains(input) ? finals : machine).entered(input),
})
/** One more event of the run, with the seconds since the one before where this page saw it; a long pause teaches nothing. */
let seen = {}
function happened(event) {
  const run = runOf(state.draft)
  const now = Date.now()
  const seconds =
    seen.run === JSON.stringify(run) && seen.job === state.draft.id ? Math.round((now - seen.at) / 1000) : Infinity
  const whole = [...run, seconds <= 900 ? {...event, after: seconds} : event]
  seen = {run: JSON.stringify(whole), job: state.draft.id, at: now}
  state.change(withRun(state.draft, whole))
}
/**
 * What was measured becomes an event only when its texts can be read and believed: resolves to their problems, to none once it is one, to
 * null when something else came between. Without the core it is taken as it is.
 */
let measuring = false
async function measured(event) {
  if (measuring) return null
  const {id, units} = state.draft
  if (html.dataset.engine === 'ready') {
    measuring = true
    const said = await ask(
      {ask: 'event', event, units, boards: boardNames(), job: toDocument(state.draft).job},
      'event',
    )
    measuring = false
    if (!said || state.draft.id !== id) return null
    if (!said.ok) return said.problems.map((one) => ({...one, about: said.about?.[one.at]}))
  }
  happened(event)
  return []
}
const boardNames = () => (toDocument(state.draft).job.boards ?? []).map(({name}) => name).filter(Boolean)
const machine = createRun($('#run'), {
  onEvent: (event) => happened(event),
  onMeasured: (event) => measured(event),
  onTold: () => entry.showDoubt(),
  onUndo: () => state.change(withRun(state.draft, runOf(state.draft).slice(0, -1))),
  runNow: () => runOf(state.draft),
})
const defects = createDefects({onDefects: (list) => state.change(withDefects(state.draft, list))})
const finals = createFinals({
  spots: createSpots,
  onFinal: (board, readings, places) => measured({did: 'measure', board, readings, places}),
  onSnipe: (lead, trail) => measured({did: 'snipe', lead, trail}),
  onTold: () => entry.showDoubt(),
})
const more = createMore($('#more'), {
  defects,
  finals,
  forms: () => store.forms(state.draft.units),
  onForm: (name, texts) => store.keepForm(state.draft.units, name, texts),
  onParts: (parts) => state.change(withParts(state.draft, parts)),
  onAsk: (lane, request) => ask({...request, units: state.draft.units}, lane),
})
const rehearse = createRehearse($('#rehearse'), {onOpen: () => asking.askRehearse()})
const glance = createGlance($('#at-a-glance'), {
  onTap() {
    const first = asking.firstProblem()
    if (first === undefined) go('plan')
    else goTo(first)
  },
})
const keeping = createKeeping($('#jobs'), state, store, {
  offerUndo: undo.offer,
  onNew: () => entry.fields.focus('target.thickness'),
})
const handing = createHanding(state, store, {ask})
createTabling(state, {ask, offerUndo: undo.offer})

const asking = createAsking(state, store, {
  ask,
  entry,
  answer,
  machine,
  more,
  rehearse,
  glance,
  onPlan: () => go('plan'),
})
const paper = createPaper($('#paper'), {ask: engine.ask, onTrouble: () => go('plan')})
createActing(state, store, {engine, place: asking.place, entry, keeping, paper, shop, undo})

// ---------------------------------------------------------------- going about

function go(view) {
  asking.wantPlan(false)
  entry.away()
  state.turn({view})
  asking.turned()
  if (view === 'more') more.again()
}

/** To the field that a problem speaks of. */
function goTo(path) {
  if (/^parts|\.defects/.test(path)) return go('more')
  if (path.startsWith('planer.record')) {
    go('planer')
    return shop.toRecord()
  }
  const places = asking.places()
  const inside = (longer, shorter) => longer.startsWith(shorter) && /^[.[]|^$/.test(longer.slice(shorter.length))
  const found =
    places.find(([, at]) => at === path) ??
    places.find(([, at]) => inside(at, path)) ??
    places.findLast(([, at]) => inside(path, at))
  shop.all()
  entry.goTo(found?.[0] ?? 'target.thickness')
}

function show() {
  showFrame()
  $(`#way input[value="${state.way}"]`).checked = true
  machine.show(state.view === 'run')
  entry.show()
  if (state.view === 'more') {
    const names = boardNames()
    more.show(partsOf(state.draft))
    const gone = runOf(state.draft)
      .filter(({did}) => did === 'remove')
      .map(({board}) => board)
    finals.show(
      names.filter((name) => !gone.includes(name)),
      runOf(state.draft).length > 0,
      aboutMm(state.draft.settings['target.thickness'] ?? '', state.draft.units) || 0,
    )
    defects.show(defectsOf(state.draft), names)
  }
  if (state.view === 'jobs') keeping.show()
  if (state.view === 'planer') shop.show()
  asking.place()
  handing.show()
  asking.tell()
}

$('#units').addEventListener('change', ({target}) => {
  if (state.draft.example) state.openExample(target.value)
  else state.change(withUnits(state.draft, target.value))
  if (state.view === 'more') more.again()
})
$('#way').addEventListener('change', ({target}) => state.turn({way: target.value}))
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
      handing.ready()
      if (state.view === 'more') more.again()
    } else asking.showPlanState()
  },
  stage: (stage) => boot.stage(stage),
  trouble: (kinds) => showTrouble($('#trouble'), kinds),
  other: (id) => state.adopt(id),
  change(what) {
    show()
    if (what === 'draft') {
      asking.wantPlan(false)
      asking.plan()
    }
  },
  go,
  problem: goTo,
})

const offline = startOffline({
  onReady: () => say($('#offline'), 'Ready without a network.'),
  onProgress: ({loaded, total} = {}) =>
    total && say($('#offline'), `Kept for use without a network: ${Math.floor((100 * loaded) / total)} %`),
  onLacking: () =>
    say(
      $('#offline'),
      'This window cannot keep the page for use without a network; another browser, or one that is not private, may.',
    ),
  onUpdateWaiting: () => showUpdate($('#update'), () => offline.applyUpdate()),
  isPlain: () => engine.way() === 'plain',
  hasUnsavedWork() {
    store.flush()
    return store.unsaved()
  },
})
