// The planers on this device: wires their list to the state and the store. A job carries its own copy of its planer.

import {$} from '../base/dom.js'
import {isOfPlaner, newId, recordOf, settingsIn, withRecord} from '../base/job.js'
import {createPlaner} from './planer.js'
import {createPlaners} from './planers.js'
import {createScrap} from './scrap.js'

const ofPlaner = (settings) =>
  Object.fromEntries(
    Object.entries(settings)
      .filter(([path, text]) => isOfPlaner(path) && text.trim())
      .sort(([a], [b]) => (a < b ? -1 : 1)),
  )

/** All that a kept planer and the planer in hand are compared by. */
const whole = (settings, record) => JSON.stringify([ofPlaner(settings), record ?? null])

/** `ask(request, lane)` asks the core; `offerUndo(text, undo)` offers one step back. */
export function createShop(root, state, store, {ask, offerUndo}) {
  const form = createPlaner($('#planer-fields', root), {onStep: () => scrap.leave(), onDone: keep})
  /** The question about the scrap whose answer is on the page. */
  let weighed
  const scrap = createScrap($('[data-step="scrap"]', root), {
    async onRead(entered) {
      const question = {scrap: entered, units: state.draft.units, record: recordOf(state.draft)}
      const said = await ask({ask: 'scrap', ...question}, 'scrap')
      if (!said) return
      weighed = {form: 'scrap', ...question}
      scrap.tell(entered, said)
    },
    onTake: (record) => remember(record, 'The scrap is kept with the planer of this job.'),
    onForget: () => remember(null, 'What was learned of this planer is forgotten.'),
  })
  const list = createPlaners($('#planers', root), {
    onUse(id) {
      const before = state.snapshot()
      const planer = store.planers().find((one) => one.id === id)
      const others = Object.entries(state.draft.settings).filter(([path]) => !isOfPlaner(path))
      const settings = {
        ...Object.fromEntries(others),
        ...settingsIn(ofPlaner(planer.settings), planer.units, state.draft.units),
      }
      state.change(withRecord({...state.draft, settings}, planer.record))
      offerUndo(`This job is for ${planer.name} now.`, () => state.restore(before))
    },
    onDelete(id) {
      const planer = store.planers().find((one) => one.id === id)
      store.dropPlaner(id)
      show()
      offerUndo(`${planer.name} is deleted. Jobs keep their own copy.`, () => {
        store.keepPlaner(planer)
        show()
      })
    },
    onKeep: keep,
    onTalk: () => form.talk(),
  })

  function remember(record, words) {
    const before = state.snapshot()
    state.change(withRecord(state.draft, record))
    offerUndo(words, () => state.restore(before))
  }

  const nameInHand = () => (state.draft.settings['planer.name'] ?? '').trim()

  /** The planer of the job in hand is kept under its name; one of the same name is replaced, with a way back. */
  function keep() {
    const name = nameInHand() || 'My planer'
    const old = store.planers().find((planer) => planer.name === name)
    if (!nameInHand()) state.change({...state.draft, settings: {...state.draft.settings, 'planer.name': name}})
    const id = old?.id ?? newId()
    store.keepPlaner({
      id,
      name,
      units: state.draft.units,
      settings: ofPlaner(state.draft.settings),
      record: recordOf(state.draft),
    })
    show()
    offerUndo(`${name} is kept on this device.`, () => {
      if (old) store.keepPlaner(old)
      else store.dropPlaner(id)
      show()
    })
  }

  function aboutOf({settings}) {
    const feeds = [0, 1, 2, 3]
      .map((n) => settings[`planer.feeds[${n}]`])
      .filter(Boolean)
      .join(', ')
    return [settings['practice.cut'] && `cut ${settings['practice.cut']}`, feeds].filter(Boolean).join(' · ')
  }

  function show() {
    const record = recordOf(state.draft)
    const mine = whole(state.draft.settings, record)
    const planers = store.planers().map((planer) => ({
      id: planer.id,
      name: planer.name,
      about: aboutOf(planer),
      inUse: whole(settingsIn(planer.settings, planer.units, state.draft.units), planer.record) === mine,
    }))
    const words = planers.some(({name}) => name === nameInHand())
      ? `Keep the changes to ${nameInHand()}`
      : 'Keep this planer'
    list.show(planers, mine === whole({}) || planers.some(({inUse}) => inUse) ? '' : words)
    scrap.show(record)
  }

  return {
    show,
    all: form.all,
    /** What to ask why of the scrap; undefined for anything else. */
    question: (what) => (what === 'scrap' ? weighed : undefined),
    /** To where what was learned can be forgotten. */
    toRecord() {
      form.all()
      const place = $('[data-step="scrap"]', root)
      place.closest('details').open = true
      $('.actions button:not([hidden])', place).focus()
    },
    /** The planer kept under the name of the one in hand, if there is one. */
    kept: () => store.planers().find((planer) => planer.name === nameInHand()),
    /** The settings of a kept planer, said in the units of the job in hand. */
    settingsOf: (planer) => settingsIn(planer.settings, planer.units, state.draft.units),
    /** A kept planer learns a record, and the settings that follow from it; all else of it stays as it is kept. */
    teach(planer, {record, settings}) {
      const learned = {
        ...planer,
        record,
        settings: {...planer.settings, ...settingsIn(settings, state.draft.units, planer.units)},
      }
      store.keepPlaner(learned)
      return learned
    },
  }
}
