// Entering the lot: wires the fields, the boards and the pad to the state.

import * as steps from '../base/board_steps.js'
import {$, $$, around, curesOf, say, seek} from '../base/dom.js'
import {told} from '../base/focus.js'
import {tally} from '../base/job.js'
import {fieldOf, inBoard} from '../base/places.js'
import {unfold} from '../base/views.js'
import {createBoards} from './boards.js'
import {createFields} from './fields.js'
import {createGrid, withCells} from './grid.js'
import {boardHint, pileHint} from './hints.js'
import {createSpots} from './spots.js'
import {placeholderOf, textOf, withText} from './texts.js'
import {intoView, padded, UnderThumb} from './under_thumb.js'

/** @import {Cure} from '../base/dom.js' */
/** @import {Held, OfferUndo, Place, Problem, State, View} from '../base/types.js' */
/**
 * @typedef {object} Handlers
 * @property {OfferUndo} offerUndo
 * @property {() => void} onDone the last of the five numbers was entered
 * @property {(input: HTMLInputElement) => void} onRun a reading of the run was entered; the run keeps its own texts
 */

/** @param {HTMLElement} root @param {HTMLElement} padRoot @param {State} state @param {Handlers} handlers */
export const createEntry = (root, padRoot, state, handlers) => new Entry(root, padRoot, state, handlers)

class Entry {
  #root
  #state
  #handlers
  #boards
  #grid
  #spots
  #thumb

  /** @param {HTMLElement} root @param {HTMLElement} padRoot @param {State} state @param {Handlers} handlers */
  constructor(root, padRoot, state, handlers) {
    this.#root = root
    this.#state = state
    this.#handlers = handlers
    this.fields = createFields(root, {
      onInput: (field, text) => this.#typed(field, text),
      onEnter: (field) => this.#entered(field),
    })
    this.#boards = createBoards($('#boards', root), {
      onReading: (n) => this.#choose(n),
      onBoard: (id) => this.#takeBoard(id, true),
    })
    this.#grid = createGrid($('#grid', root), {
      onCells: (cells) => this.#cells(cells),
      onBoard: (id) => id !== state.hand.board && state.turn({hand: {board: id, chosen: null}}),
    })
    this.#spots = createSpots($('#spots', root), {
      onSpot: (spot) => {
        this.#step(steps.spotTapped(state.draft, state.hand, spot))
        this.fields.focus('board.entry')
      },
    })
    this.#thumb = new UnderThumb(root, padRoot, state, {
      onTyped: (field, text) => this.#typed(field, text),
      onEntered: (field) => this.#entered(field),
      onCure: (field, cure) => this.#settle(field, cure),
      onNextBoard: () => this.nextBoard(),
      onBack: () => this.takeBack(),
    })
    root.addEventListener('mousedown', (event) => {
      // The field keeps the focus, and the pad with it.
      if (around(event.target, '[data-cure]')) event.preventDefault()
    })
    root.addEventListener('click', ({target}) => {
      const button = around(target, '[data-cure]')
      const field = around(button, '[data-field]')
      const cure = field && curesOf($('.problem', field))[Number(button?.dataset.cure)]
      if (cure) this.#settle(field, cure)
    })
  }

  show() {
    const {draft, hand, way} = this.#state
    const counts = tally(draft)
    const board = this.#board()
    this.#boards.show({boards: draft.boards, board, chosen: hand.chosen, hint: boardHint(draft, counts)})
    this.#grid.show(draft)
    this.#spots.show(board, steps.spotOf(draft, hand))
    say($('#pile-hint', this.#root), pileHint(draft, way, counts))
    this.fields.show(
      (field) => textOf(this.#state, field),
      (field) => placeholderOf(this.#state, field),
    )
    this.#thumb.show()
  }

  away() {
    this.#thumb.away()
  }

  /** Beside the fields, and in the table. @param {Record<string, string>} understood @param {Problem[]} problems @param {Problem[]} notes @param {Place[]} places */
  tell(understood, problems, notes, places) {
    this.#grid.tell(new Map(problems.map(({at, text, short}) => [fieldOf(places, at) ?? '', short || text])))
    return this.fields.tell(understood, problems, notes)
  }

  showDoubt() {
    this.#thumb.showDoubt()
  }

  #board() {
    return steps.boardIn(this.#state.draft, this.#state.hand)
  }

  /** @param {Held} held */
  #step({draft, hand}) {
    this.#state.change(draft, hand)
  }

  /** @param {string} field @param {string} text */
  #typed(field, text) {
    if (field.startsWith('run.')) this.#thumb.show()
    else this.#step(withText(this.#state, field, text))
  }

  /** What is asked about a field is settled by a key of the pad or beside it. @param {HTMLElement} field @param {Cure} cure */
  #settle(field, cure) {
    const {draft, hand} = this.#state
    const name = field.dataset.field ?? ''
    const spot = inBoard(name)
    if (cure.swaps) {
      const {thickest, thinnest} = draft.pile
      this.#step({draft: {...draft, pile: {...draft.pile, thickest: thinnest, thinnest: thickest}}, hand})
    } else if (spot?.part === 'readings') {
      const board = {board: spot.id, chosen: spot.reading}
      this.#step({draft: steps.readingTyped(draft, board, cure.text).draft, hand})
    } else {
      this.#thumb.put(field, cure.text)
      const input = $('input', field, HTMLInputElement)
      if (name.startsWith('run.')) this.#handlers.onRun(input)
      else if (input === document.activeElement) this.#entered(name)
    }
  }

  // ------------------------------------------------------------ moving on

  /** Enter: the reading is taken and the next one is awaited; elsewhere, on to the next field. @param {string} field */
  #entered(field) {
    if (field.startsWith('run.')) {
      if (document.activeElement instanceof HTMLInputElement) this.#handlers.onRun(document.activeElement)
    } else if (field === 'board.entry') this.#readingEntered()
    else if (field === 'board.width' && steps.unknownSize(this.#state.draft, this.#state.hand) === 'length')
      this.fields.focus('board.length')
    else if (field === 'board.width' || field === 'board.length') this.nextBoard()
    else if (field === 'pile.longest') {
      this.away()
      this.#handlers.onDone()
    } else this.#toNextField(field)
  }

  /** In an empty reading field: on to a size that nobody knows yet, else to the next board. */
  #readingEntered() {
    const {draft, hand} = this.#state
    if (steps.readingText(draft, hand).trim() || hand.chosen !== null) {
      const text = steps.readingText(draft, hand).trim()
      this.#step(steps.readingTaken(draft, hand))
      if (text) told(`${text} is taken. ${$('label', $('[data-field="board.entry"]', this.#root)).textContent}`)
      const field = padded()
      if (field && seek('#spots[open]', this.#root)) intoView(field)
      return
    }
    if (!this.#board().readings.length) return
    const unknown = steps.unknownSize(draft, hand)
    if (unknown) this.fields.focus(`board.${unknown}`)
    else this.nextBoard()
  }

  /** @param {string} field */
  #toNextField(field) {
    const all = $$('[data-field] input', this.#root, HTMLInputElement)
    const inputs = all.filter((input) => input.offsetParent !== null)
    const at = inputs.findIndex((input) => around(input, '[data-field]')?.dataset.field === field)
    const next = inputs[at + 1]
    if (next) {
      next.focus()
      next.select()
    } else this.away()
  }

  nextBoard() {
    this.#step(steps.nextBoard(this.#state.draft, this.#state.hand))
    this.fields.focus('board.entry')
  }

  // ------------------------------------------------------------ boards and readings

  /** @param {number} by */
  neighbor(by) {
    this.#takeBoard(steps.neighbor(this.#state.draft, this.#state.hand, by)?.id)
  }

  /** @param {string | undefined} id */
  #takeBoard(id, show = false) {
    if (!id) return
    this.#step(steps.boardTaken(this.#state.draft, this.#state.hand, id))
    if (show) $('#board', this.#root).scrollIntoView({block: 'start'})
  }

  /** Of the table; a block that was pasted can be taken back. @param {import('./grid.js').Cell[]} cells */
  #cells(cells) {
    const before = this.#state.snapshot()
    this.#step({draft: withCells(before.draft, cells), hand: before.hand})
    if (cells.length > 1) this.#handlers.offerUndo(`${cells.length} cells are pasted.`, this.#state.backFrom(before))
  }

  /** @param {number} n */
  #choose(n) {
    const {hand} = this.#state
    this.#state.turn({hand: {board: this.#board().id, chosen: hand.chosen === n ? null : n}})
    this.fields.focus('board.entry')
    $('#reading', this.#root, HTMLInputElement).select()
  }

  takeBack() {
    const before = this.#state.snapshot()
    const taken = steps.readingTakenBack(before.draft, before.hand)
    if (taken.gone === null) return
    this.#step(taken)
    this.#handlers.offerUndo(`Reading ${taken.gone} is taken back.`, this.#state.backFrom(before))
  }

  copyBoard() {
    const before = this.#state.snapshot()
    const copied = steps.boardCopied(before.draft, before.hand)
    this.#step(copied)
    this.#handlers.offerUndo(`${copied.name} is a copy of ${copied.from}.`, this.#state.backFrom(before))
  }

  deleteBoard() {
    const before = this.#state.snapshot()
    const deleted = steps.boardDeleted(before.draft, before.hand)
    this.#step(deleted)
    this.#handlers.offerUndo(`Board ${deleted.gone} is deleted.`, this.#state.backFrom(before))
  }

  // ------------------------------------------------------------ to a problem

  /** To the field that stands at a key of the document's places. @param {string} key */
  goTo(key) {
    const spot = inBoard(key)
    if (spot) {
      this.#state.turn({view: 'lot', way: 'boards', hand: {board: spot.id, chosen: spot.reading}})
      this.#toField(`board.${spot.part ?? 'entry'}`, 'board.entry')
      return
    }
    const name = key === 'pile' ? 'pile.thickest' : key === 'units' ? 'title' : key
    const field = seek(`[data-field="${CSS.escape(name)}"]`, this.#root)
    const view = /** @type {View} */ (around(field, 'section[data-part]')?.dataset.part ?? 'planer')
    this.#state.turn({view, ...(around(field, '#pile') ? {way: 'pile'} : {})})
    this.#toField(name)
  }

  /** @param {string} name @param {string} [otherwise] */
  #toField(name, otherwise = name) {
    const field = seek(`[data-field="${CSS.escape(name)}"]`, this.#root)
    unfold(field)
    this.fields.focus(field ? name : otherwise)
  }
}
