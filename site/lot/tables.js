// Tables from and for a spreadsheet: wires their part to the state and to the core.

import {fromDocument, toDocument} from '../base/document.js'
import {$} from '../base/dom.js'
import {namedBeside, newDraft} from '../base/job.js'
import {TablesPart} from './tables_part.js'

/** @import {Ask, OfferUndo, State} from '../base/types.js' */

/** @param {State} state @param {{ask: Ask, offerUndo: OfferUndo}} handlers */
export function createTabling(state, {ask, offerUndo}) {
  const tables = new TablesPart($('#tables'), {
    async onRead({text, roles}) {
      const said = await ask({ask: 'table', text, roles, units: state.draft.units}, 'table')
      if (said) tables.show(said)
    },
    onTake(boards, way, name) {
      if (way === 'add' && state.follows) return tables.say('Another tab works on this job: add them there.')
      const before = state.snapshot()
      const read = fromDocument({thickset: 1, units: state.draft.units, boards})
      const many = boards.length === 1 ? '1 board' : `${boards.length} boards`
      if (way === 'add' && read.boards.length) {
        state.change({...state.draft, boards: [...state.draft.boards, ...namedBeside(read.boards, state.draft.boards)]})
        state.turn({view: 'lot', way: 'boards'})
        offerUndo(`${many} added.`, state.backFrom(before))
        return
      }
      const kept = before.draft.example
        ? []
        : Object.entries(before.draft.settings).filter(([path]) => !path.startsWith('target.'))
      const {pile, boards: taken} = read
      state.open(
        {
          ...newDraft(before.draft.units),
          title: name || 'From a table',
          settings: Object.fromEntries(kept),
          pile,
          boards: taken,
          touched: Date.now(),
        },
        {view: 'lot'},
      )
      if (!before.draft.example) offerUndo(`A new job of ${many}. The one before is kept.`, state.backTo(before))
    },
    async onSave(what, comma) {
      const said = await ask({ask: 'csv', what, comma, job: toDocument(state.draft).job}, 'csv')
      if (said?.ok) tables.save(said.text, `${state.draft.title} ${what}`)
      else if (said) tables.say(`There is nothing to save yet. ${said.problems[0].text}`)
    },
  })
}
