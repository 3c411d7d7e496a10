// What the page is about right now: the job as entered (the draft), the board in hand, and where the person is. Everything that changes
// them goes through here, is stored, and is told to whoever listens.

import {isBlank, newId, pileBegun} from './job.js'
import {fromDocument} from './document.js'
import {settled} from './board_steps.js'

const VIEWS = ['lot', 'planer', 'plan', 'jobs', 'run', 'more']

/** `demo` is {in: document, mm: document}; `onChange(what)` is told 'draft', 'units' or 'ui' after each change. */
export function createState(store, demo, onChange) {
  const held = store.now()
  const state = {
    draft: null,
    hand: {board: typeof held.board === 'string' ? held.board : '', chosen: null},
    view: VIEWS.includes(held.view) ? held.view : 'plan',
    way: 'pile',
    keys: held.keys ?? !window.matchMedia('(pointer: coarse), (max-width: 700px)').matches,
    scale: [16, 32, 64, 'tenths', 'digits'].includes(held.scale) ? held.scale : 32,
  }

  function example(units) {
    return {...fromDocument(demo[units] ?? {thickset: 1, boards: []}, 'example'), example: true}
  }

  function wayOf(draft) {
    return pileBegun(draft) || !draft.boards.some((board) => board.readings.length) ? 'pile' : 'boards'
  }

  function hold(draft, hand = state.hand) {
    Object.assign(state, settled(draft, hand))
  }

  function keepNow() {
    const {draft, hand, view, way, keys, scale} = state
    store.keepNow({job: draft.id, units: draft.units, board: hand.board, view, way, keys, scale})
  }

  hold(
    (typeof held.job === 'string' && held.job !== 'example' && store.job(held.job)) ||
      example(held.units === 'mm' ? 'mm' : 'in'),
  )
  state.way = held.way === 'pile' || held.way === 'boards' ? held.way : wayOf(state.draft)

  /** Goes up when another job comes to hand. */
  state.opened = 0

  return Object.assign(state, {
    /** The draft becomes this. The example itself never changes: what is made of it is a job of one's own. */
    change(draft, hand) {
      const own =
        draft.example && draft !== state.draft
          ? {...draft, example: false, id: newId(), title: `${draft.title}, changed`}
          : draft
      hold({...own, touched: Date.now()}, hand)
      store.keepJob(state.draft)
      keepNow()
      onChange('draft')
    },
    /** Another board or reading comes to hand, another part into view, ...: nothing of the draft changes. */
    turn(changes) {
      Object.assign(state, changes)
      Object.assign(state, settled(state.draft, state.hand))
      keepNow()
      onChange('ui')
    },
    /** Another job is opened: the draft is taken as it is. */
    open(draft, changes = {}) {
      if (state.draft.id !== draft.id && isBlank(state.draft)) store.dropJob(state.draft.id)
      state.opened += 1
      hold(draft, {board: '', chosen: null})
      state.way = wayOf(draft)
      Object.assign(state, changes)
      if (!draft.example) {
        store.keepJob(state.draft)
        store.keepForGood()
      }
      keepNow()
      onChange('draft')
    },
    /** The example, in these units. */
    openExample(units, changes = {}) {
      this.open(example(units), changes)
    },
    /** Back to a state of before, for undo. */
    restore(before) {
      if (before.draft.id !== state.draft.id) state.opened += 1
      hold(before.draft, before.hand)
      Object.assign(state, {view: before.view, way: before.way})
      if (!state.draft.example) store.keepJob(state.draft)
      keepNow()
      onChange('draft')
    },
    snapshot: () => ({draft: state.draft, hand: state.hand, view: state.view, way: state.way}),
    /** Another tab changed the job: what it stored is the newest. */
    adopt(id) {
      const stored = id === state.draft.id ? store.job(id) : null
      if (!stored) return
      hold(stored)
      onChange('draft')
    },
  })
}
