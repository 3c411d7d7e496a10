// What the buttons do that act on a whole job. Each names what it does with data-do.

import {$} from '../base/dom.js'
import {recordOf, withRecord} from '../base/job.js'
import {fromDocument} from '../base/document.js'

/** `place()` gives the job document; the rest are the parts that act. */
export function createActing(state, store, {engine, place, entry, keeping, paper, shop, undo}) {
  /** One lot becomes two jobs; the whole one is kept. */
  async function splitJob() {
    const before = state.snapshot()
    const said = await engine.ask({ask: 'split', job: place()}, 'split')
    if (!said?.ok) return
    const [one, two] = said.jobs.map((job) => ({...fromDocument(job), touched: Date.now()}))
    store.keepJob(two)
    state.open(one, {view: 'plan'})
    undo.offer(`Two jobs are made, “${one.title}” and “${two.title}”. The whole lot is kept.`, () =>
      state.restore(before),
    )
  }

  /** The next lot starts from what this run taught, and so does the planer that is kept under this name. */
  async function learn() {
    const old = shop.kept()
    if (!old) {
      const said = await engine.ask({ask: 'learn', job: place()}, 'learn')
      if (said?.ok) keeping.newLot(said.record, said.settings)
      return
    }
    if (state.draft.taught) {
      keeping.newLot(old.record, shop.settingsOf(old), {
        words: `A new lot. What this run taught, ${old.name} had learned before.`,
      })
      return
    }
    const said = await engine.ask({ask: 'learn', job: place(), record: old.record}, 'learn')
    if (!said?.ok) return
    state.change({...state.draft, taught: true})
    const learned = shop.teach(old, said)
    keeping.newLot(learned.record, shop.settingsOf(learned), {
      words: `A new lot, and ${old.name} has learned. The one before is kept.`,
      onBack() {
        state.change({...state.draft, taught: false})
        store.keepPlaner(old)
        shop.show()
      },
    })
  }

  /** The target becomes what to plane to today; what it was is wanted in service. */
  function takeToday({dataset}) {
    const before = state.snapshot()
    const {settings} = state.draft
    const wanted = settings['service.thickness']?.trim() || settings['target.thickness']
    state.change({
      ...state.draft,
      settings: {...settings, 'target.thickness': dataset.thickness, 'service.thickness': wanted},
    })
    undo.offer(`The target is ${dataset.thickness} today, for ${wanted} in service.`, () => state.restore(before))
  }

  /** The length fed with these knives begins anew. */
  function newKnives() {
    const [before, old, record] = [state.snapshot(), shop.kept(), recordOf(state.draft)]
    if (!record) return
    state.change(withRecord(state.draft, {...record, fed: 0}))
    if (old?.record) store.keepPlaner({...old, record: {...old.record, fed: 0}})
    shop.show()
    undo.offer('The length fed begins anew with these knives.', () => {
      state.restore(before)
      if (old) store.keepPlaner(old)
      shop.show()
    })
  }

  const actions = {
    'own-lot': () => keeping.newLot(),
    'split-job': splitJob,
    learn,
    'take-today': takeToday,
    'new-knives': newKnives,
    'save-job': keeping.save,
    'save-all': keeping.saveAll,
    'next-board': entry.nextBoard,
    'copy-board': entry.copyBoard,
    'delete-board': entry.deleteBoard,
    'board-before': () => entry.neighbor(-1),
    'board-after': () => entry.neighbor(1),
    'print-sheet': () => paper.print('sheet', place()),
    'print-tags': () => paper.print('tags', place()),
    'print-report': () => paper.print('report', place()),
    restart: () => engine.restart(),
    'go-on': () => {
      $('#boot-failed').hidden = true
    },
  }
  document.addEventListener('click', ({target}) => {
    const button = target.closest('[data-do]')
    actions[button?.dataset.do]?.(button)
  })
}
