// Handing a job over and taking one in: the link of what is on the page, its code, and a plan that came with the
// address.

import {toDocument} from '../base/document.js'
import {$} from '../base/dom.js'
import {isBlank, runOf} from '../base/job.js'
import {createArriving, HERE} from './arriving.js'
import {Send} from './send.js'

/** @import {Ask, Draft, State, Store} from '../base/types.js' */

const WAIT = 300

/** @param {State} state @param {Store} store @param {{ask: Ask}} core */
export function createSharing(state, store, {ask}) {
  const arriving = createArriving(state, store, {ask})
  let withRun = true
  /** The draft that the link is of, and whether the link is still to be made. @type {Draft | null} */
  let of = null
  let wanted = false
  let timer = 0
  let ready = false
  /** The buttons are in sight or nearly so: before that no link is made, as the planner has better to do. */
  let near = false

  const send = new Send($('#send'), {
    onRun(along) {
      withRun = along
      of = null
      makeSoon()
    },
    async onCode() {
      const said = await ask({ask: 'code', job: toDocument(state.draft).job, run: withRun, page: HERE}, 'code')
      if (said) send.showCode(said.html?.code ?? '', said.ok ? '' : said.problems[0]?.text)
    },
  })

  /** The link is made anew a little after the last change, so that it is there when it is wanted. */
  function makeSoon() {
    const {draft} = state
    if (draft !== of) {
      of = draft
      wanted = true
      send.forget()
    }
    if (!wanted) return
    clearTimeout(timer)
    timer = setTimeout(() => make(draft), WAIT)
  }

  /** @param {Draft} draft */
  async function make(draft) {
    if (!ready || !near || isBlank(draft)) return
    wanted = false
    const said = await ask({ask: 'link', job: toDocument(draft).job, run: withRun}, 'link')
    if (draft !== of) return
    if (!said) wanted = true
    else if (said.ok) send.offer(HERE + said.link, draft.title.trim() || 'A plan')
    else send.refuse(said.problems[0].text)
  }

  new IntersectionObserver(
    ([{isIntersecting}]) => {
      near = isIntersecting
      if (near) makeSoon()
    },
    {rootMargin: '400px'},
  ).observe($('#send'))

  return {
    /** What is on the page has changed. */
    show() {
      send.show(runOf(state.draft).length > 0)
      makeSoon()
    },
    /** The core answers from now on. */
    ready() {
      ready = true
      arriving.ready()
      makeSoon()
    },
  }
}
