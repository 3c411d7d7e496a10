// The worker: starts the core the way the page asks for, then answers one request after the other.
import {ANSWER, ASK, FAILED, READY, STAGE, STAGES, START} from './messages.js'
import {BUILD} from './built.js'
import {startFrozen, startPlain, trampolinePlace} from './start.js'

export {BUILD, startFrozen, startPlain, trampolinePlace} // for tests and bench

let handle, way

self.onmessage = async ({data}) => {
  if (data.type === START) await start(data)
  else if (data.type === ASK) answer(data)
}

/** The core never raises: what is caught here is the end of its memory or of its stack, and it answers nothing after that. */
function answer({id, request}) {
  try {
    self.postMessage({type: ANSWER, id, answer: handle(request)})
  } catch (error) {
    self.postMessage({type: FAILED, way, stage: STAGES.core, kind: 'start', text: String(error.message ?? error)})
  }
}

async function start({way: wanted, counted}) {
  way = wanted
  let stage = STAGES.fetch
  const order = Object.values(STAGES)
  const tell = (told) => {
    if (order.indexOf(told.stage) < order.indexOf(stage)) return // a file still on its way in a later stage
    stage = told.stage
    self.postMessage({type: STAGE, ...told})
  }
  try {
    ;({handle} = await (way === 'frozen' ? startFrozen : startPlain)({tell, counted}))
    const marks = performance
      .getEntriesByType('mark')
      .map(({name, startTime}) => [name, performance.timeOrigin + startTime])
    self.postMessage({
      type: READY,
      way,
      ms: performance.now(),
      marks: [['worker begins', performance.timeOrigin], ...marks],
    })
  } catch (error) {
    self.postMessage({type: FAILED, way, stage, kind: error.kind ?? 'start', text: String(error.message ?? error)})
  }
}
