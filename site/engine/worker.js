// The worker: starts the core the way the page asks for, then answers one request after the other.
import {BUILD} from './built.js'
import {Fetched, StartError} from './fetched.js'
import {readHeap, unpacking} from './heap.js'
import {ANSWER, ASK, FAILED, READY, STAGE, STAGES, START} from './messages.js'
import {startFrozen, startPlain, trampolinePlace} from './start.js'

/** @import {FromWorker, Progress, StartWay, ToWorker} from './messages.js' */

export {BUILD, Fetched, readHeap, startFrozen, startPlain, trampolinePlace, unpacking} // for tests and bench

/** @type {import('./start.js').Handle} */
let handle
/** @type {StartWay} */
let way

self.onmessage = async (/** @type {MessageEvent<ToWorker>} */ {data}) => {
  if (data.type === START) await start(data.way, data.counted)
  else if (data.type === ASK) answer(data.id, data.request)
}

/** @param {FromWorker} message */
const post = (message) => self.postMessage(message)
/** @param {unknown} error */
const wordsOf = (error) => String(error instanceof Error ? error.message : error)

/**
 * The core never raises: what is caught here is the end of its memory or of its stack, and it answers nothing after
 * that.
 * @param {number} id
 * @param {string} request
 */
function answer(id, request) {
  try {
    post({type: ANSWER, id, answer: handle(request)})
  } catch (error) {
    post({type: FAILED, way, stage: STAGES.core, kind: 'start', text: wordsOf(error)})
  }
}

/** @param {StartWay} wanted @param {boolean} counted */
async function start(wanted, counted) {
  way = wanted
  /** @type {Progress['stage']} */
  let stage = STAGES.fetch
  const order = Object.values(STAGES)
  const tell = (/** @type {Progress} */ told) => {
    if (order.indexOf(told.stage) < order.indexOf(stage)) return // a file still on its way in a later stage
    stage = told.stage
    post({type: STAGE, ...told})
  }
  try {
    ;({handle} = await (way === 'plain' ? startPlain : startFrozen)({tell, counted, whole: way === 'whole'}))
    const marks = performance
      .getEntriesByType('mark')
      .map(({name, startTime}) => /** @type {[string, number]} */ ([name, performance.timeOrigin + startTime]))
    post({
      type: READY,
      way,
      ms: performance.now(),
      marks: [['worker begins', performance.timeOrigin], ...marks],
    })
  } catch (error) {
    post({type: FAILED, way, stage, kind: error instanceof StartError ? error.kind : 'start', text: wordsOf(error)})
  }
}
