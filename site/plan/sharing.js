// Handing a job over and taking one in: the link of what is on the page, its code, and a plan that came with the address.

import {$} from '../base/dom.js'
import {isBlank, runOf, tally} from '../base/job.js'
import {fromDocument, toDocument} from '../base/document.js'
import {createIncoming} from './incoming.js'
import {createSend} from './send.js'

const WAIT = 300
const HERE = `${location.origin}${location.pathname}`
const PLAN = '#plan='

/** `ask(request, lane)` asks the core. */
export function createHanding(state, store, {ask}) {
  let withRun = true
  /** The draft that the link is of, and whether the link is still to be made. */
  let of = null
  let wanted = false
  let timer = 0
  let ready = false
  /** The buttons are in sight or nearly so: before that no link is made, as the planner has better to do. */
  let near = false

  const send = createSend($('#send'), {
    onRun(along) {
      withRun = along
      of = null
      makeSoon()
    },
    async onCode() {
      const said = await ask({ask: 'code', job: toDocument(state.draft).job, run: withRun, page: HERE}, 'code')
      if (said) send.showCode(said.html?.code ?? '', said.problems?.[0]?.text)
    },
  })
  const incoming = createIncoming($('#incoming'))

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
    timer = setTimeout(async () => {
      if (!ready || !near || isBlank(draft)) return
      wanted = false
      const said = await ask({ask: 'link', job: toDocument(draft).job, run: withRun}, 'link')
      if (draft !== of) return
      if (!said) wanted = true
      else if (said.ok) send.offer(HERE + said.link, draft.title.trim() || 'A plan')
      else send.refuse(said.problems[0].text)
    }, WAIT)
  }

  new IntersectionObserver(
    ([{isIntersecting}]) => {
      near = isIntersecting
      if (near) makeSoon()
    },
    {rootMargin: '400px'},
  ).observe($('#send'))

  // ------------------------------------------------------------ a plan that came with the address

  function leave() {
    incoming.hide()
    history.replaceState(null, '', HERE)
  }

  async function takeIn() {
    const link = location.hash
    if (!link.startsWith(PLAN)) return
    if (!ready) {
      incoming.tell('A plan came with this address. It is shown as soon as the planner is ready.', [
        ['Leave it', leave],
      ])
      return
    }
    const said = await ask({ask: 'open', link}, 'open')
    if (!said || link !== location.hash) return
    if (!said.ok) {
      incoming.tell(said.problems[0].text, [
        ['Open a file', () => $('#open-job').click()],
        ['Close', leave],
      ])
      return
    }
    const draft = {...fromDocument(said.job), touched: Date.now()}
    const text = (each) => JSON.stringify(toDocument(each).job)
    const same = store.jobs().find((job) => text(job) === text(draft))
    const {total} = tally(draft)
    const what = [
      draft.title.trim() || 'Unnamed lot',
      total > 0 && (total === 1 ? '1 board' : `${total} boards`),
      runOf(draft).length > 0 && 'with its run',
    ]
    const about = what.filter(Boolean).join(', ')
    const open = () => {
      leave()
      state.open(same ?? draft, {view: 'plan'})
    }
    incoming.tell(
      same
        ? `The plan of this address is among your jobs already: ${about}.`
        : `A plan came with this address: ${about}. Your own jobs stay as they are.`,
      [
        [same ? 'Open it' : 'Open as a new job', open],
        ['Leave it', leave],
      ],
    )
  }

  window.addEventListener('hashchange', takeIn)
  takeIn()

  return {
    /** What is on the page has changed. */
    show() {
      send.show(runOf(state.draft).length > 0)
      makeSoon()
    },
    /** The core answers from now on. */
    ready() {
      ready = true
      takeIn()
      makeSoon()
    },
  }
}
