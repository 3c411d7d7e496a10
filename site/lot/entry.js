// Entering the lot: wires the fields, the boards and the pad to the state.

import {$, $$, afterTap, say} from '../base/dom.js'
import {aboutMm} from '../base/lengths.js'
import {fiveNumbers, pileBegun, SETTINGS, takenOver, tally, woodTakenOver} from '../base/job.js'
import * as steps from '../base/board_steps.js'
import {createBoards} from './boards.js'
import {createFields} from './fields.js'
import {createPad} from './pad.js'
import {createSpots} from './spots.js'

/** How a question about a length ends: "Write 27.8 mm or 27.8 in." or "if it is meant, write 2 1/2 in." */
const TO_WRITE = /\bwrite (\d[^,]*? (?:in|mm))(?: or (\d[^,]*? (?:in|mm)))?\.$/i

/**
 * `state` as made by createState; `defaults` {in: {path: value}, mm: ...}; `offerUndo(text, back)`; `onDone()`: the last of the five numbers
 * was entered. `onRun(input)`: a reading of the run was entered; the run keeps its own texts.
 */
export function createEntry(root, padRoot, state, {defaults, offerUndo, onDone, onRun}) {
  const fields = createFields(root, {onInput: typed, onEnter: entered})
  const boards = createBoards($('#boards', root), {onReading: choose, onBoard: (id) => takeBoard(id, true)})
  const spots = createSpots($('#spots', root), {
    onSpot(spot) {
      step(steps.spotTapped(state.draft, state.hand, spot))
      fields.focus('board.entry')
    },
  })
  const pad = createPad(padRoot, {
    onText: (text) => padded() && put(text),
    onEnter(text) {
      if (!padded()) return
      put(text)
      entered(padded().dataset.field)
    },
    onNext: () => padded() && entered(padded().dataset.field),
    onNextBoard: nextBoard,
    onBack: takeBack,
    onKeys(keys) {
      state.turn({keys})
      const active = document.activeElement
      active?.blur()
      active?.focus()
    },
    onScale: (scale) => state.turn({scale}),
    onDone: away,
  })

  /** The field is left, and the pad goes with it. */
  function away() {
    document.activeElement?.blur()
    pad.hide()
  }

  const board = () => steps.boardIn(state.draft, state.hand)
  const step = ({draft, hand}) => state.change(draft, hand)

  // ------------------------------------------------------------ texts of the fields

  function textOf(field) {
    const [group, ...rest] = field.split('.')
    const key = rest.join('.')
    if (field === 'title') return state.draft.title
    if (field === 'board.entry') return steps.readingText(state.draft, state.hand)
    if (group === 'board') return board()[key] ?? ''
    if (group === 'pile') return state.draft.pile[key] ?? ''
    return field in SETTINGS ? (state.draft.settings[field] ?? '') : undefined
  }

  function typed(field, text) {
    const {draft, hand} = state
    const [group, key] = field.split('.')
    if (field === 'title') state.change({...draft, title: text})
    else if (group === 'run') showPad()
    else if (field === 'board.entry') step(steps.readingTyped(draft, hand, text))
    else if (group === 'board') state.change(steps.withBoard(draft, board().id, {[key]: text}))
    else if (group === 'pile') state.change({...draft, pile: {...draft.pile, [key]: text}})
    else state.change({...draft, settings: {...draft.settings, [field]: text}})
  }

  /** The pad types into the field that has the focus. */
  function put(text) {
    const field = padded()
    if (field.dataset.field.startsWith('run.')) {
      $('input', field).value = text
      $('input', field).dispatchEvent(new Event('input', {bubbles: true}))
    } else typed(field.dataset.field, text)
    $('input', field).setSelectionRange(text.length, text.length)
  }

  function placeholderOf(field) {
    const [group, key] = field.split('.')
    if (group === 'board' && (key === 'width' || key === 'length')) {
      return takenOver(state.draft, state.draft.boards.indexOf(board()), key)?.text ?? ''
    }
    if (group === 'board' && (key === 'species' || key === 'density')) {
      return (
        woodTakenOver(state.draft, state.draft.boards.indexOf(board()))?.[key] || (key === 'density' ? '672 kg/m3' : '')
      )
    }
    if (group === 'pile') return key === 'count' && pileBegun(state.draft) ? '1' : ''
    if (!(field in SETTINGS)) return undefined
    const own = defaults[state.draft.units] ?? {}
    return String(own[field] ?? (field === 'planer.feeds[0]' ? own['planer.feeds[]'] : undefined) ?? '')
  }

  // ------------------------------------------------------------ moving on

  /** Enter: the reading is taken and the next one is awaited; elsewhere, on to the next field. */
  function entered(field) {
    const {draft, hand} = state
    if (field.startsWith('run.')) {
      onRun(document.activeElement)
    } else if (field === 'board.entry') {
      if (steps.readingText(draft, hand).trim() || hand.chosen !== null) {
        step(steps.readingTaken(draft, hand))
        if (padded() && $('#spots[open]', root)) intoView(padded())
      } else if (board().readings.length) afterReadings()
    } else if (field === 'board.width' && steps.unknownSize(draft, hand) === 'length') {
      fields.focus('board.length')
    } else if (field === 'board.width' || field === 'board.length') {
      nextBoard()
    } else if (field === 'pile.longest') {
      away()
      onDone()
    } else {
      const inputs = $$('[data-field] input', root).filter((input) => input.offsetParent !== null)
      const next = inputs[inputs.findIndex((input) => input.closest('[data-field]').dataset.field === field) + 1]
      if (next) {
        next.focus()
        next.select()
      } else {
        away()
      }
    }
  }

  /** Enter in an empty reading field: a size that nobody knows yet, else the next board. */
  function afterReadings() {
    const unknown = steps.unknownSize(state.draft, state.hand)
    if (unknown) fields.focus(`board.${unknown}`)
    else nextBoard()
  }

  function nextBoard() {
    step(steps.nextBoard(state.draft, state.hand))
    fields.focus('board.entry')
  }

  function takeBoard(id, show = false) {
    if (!id) return
    step(steps.boardTaken(state.draft, state.hand, id))
    if (show) $('#board', root).scrollIntoView({block: 'start'})
  }

  function choose(n) {
    state.turn({hand: {board: board().id, chosen: state.hand.chosen === n ? null : n}})
    fields.focus('board.entry')
    $('#reading', root).select()
  }

  function takeBack() {
    const before = state.snapshot()
    const taken = steps.readingTakenBack(state.draft, state.hand)
    if (taken.gone === null) return
    step(taken)
    offerUndo(`Reading ${taken.gone} is taken back.`, () => state.restore(before))
  }

  // ------------------------------------------------------------ the pad

  function padded() {
    return document.activeElement?.matches?.('[data-pad]') ? document.activeElement.closest('[data-field]') : null
  }

  /** Where the pad starts: at the field's own text, else near the last reading; a first reading lies above the target. */
  function nearFor(field) {
    const {draft, hand} = state
    const mm = (text) => aboutMm(text ?? '', draft.units)
    const run = field.startsWith('run.') ? $('input', padded()) : null
    const own = mm(run ? run.value : textOf(field))
    if (own > 0) return own
    if (run) return Number(run.dataset.nearMm)
    if (field === 'target.thickness') return draft.units === 'mm' ? 20 : 19.05
    const target = mm(draft.settings['target.thickness'])
    if (field === 'board.entry') {
      const last = steps.lastReading(draft, hand, (text) => mm(text) > 0)
      if (last !== null) return mm(last)
    }
    return (
      [draft.pile.thickest, draft.pile.thinnest].map(mm).find((value) => value > 0) ??
      (target > 0 ? target + 3.175 : 25.4)
    )
  }

  /** The input that the pad is for, and how often that has changed: what was half chosen is forgotten with each. */
  let padInput = null
  let turns = 0

  function showPad() {
    const decimals = state.draft.units === 'mm'
    for (const input of $$('[data-pad]', root)) {
      input.inputMode = !state.keys ? 'none' : decimals || input.dataset.pad === 'count' ? 'decimal' : 'text'
    }
    const field = padded()
    if (!field) {
      pad.hide()
      return
    }
    const name = field.dataset.field
    const inBoard = name.startsWith('board.')
    if (padInput !== $('input', field)) {
      padInput = $('input', field)
      turns += 1
    }
    pad.show({
      kind: $('input', field).dataset.pad,
      units: state.draft.units,
      scale: state.scale,
      keys: state.keys,
      text: textOf(name) ?? $('input', field).value,
      last: nearFor(name),
      label: `${inBoard ? `${board().name} · ` : ''}${$('label', field).textContent}`,
      canTakeBack: name === 'board.entry' && board().readings.length > 0,
      inBoard,
      turn: `${turns} ${state.hand.board} ${state.hand.chosen} ${name === 'board.entry' ? board().readings.length : ''}`,
    })
    showDoubt()
  }

  /** A length without a unit that is asked about, as one of an unusual size: the pad has what the core says to write. */
  function showDoubt() {
    const problem = padded() && $('.problem', padded())
    const named = TO_WRITE.exec(problem?.textContent ?? '')
    pad.doubt(named ? named.slice(1).filter(Boolean) : [])
  }

  /** The field over the pad; of a board, with the picture of it where that is unfolded. */
  function intoView(field) {
    const top = field.closest('.board-top')
    if (top) ($('#spots[open] .spots', top) ?? top).scrollIntoView({block: 'start'})
    else field.scrollIntoView({block: 'center'})
  }

  document.addEventListener('focusin', () => {
    const field = padded()
    if (!field) return
    showPad()
    intoView(field)
  })
  document.addEventListener('focusout', () => afterTap(showPad))

  // ------------------------------------------------------------ showing

  /** The thickest spot of the pile is entered as under its thinnest: one of them is a slip. */
  function upsideDown({pile, units}) {
    return aboutMm(pile.thickest, units) < aboutMm(pile.thinnest, units)
  }

  function pileHint(measured, left) {
    if (upsideDown(state.draft)) return 'The thickest spot is under the thinnest: look at both once more.'
    const numbers = state.way === 'pile' ? fiveNumbers(state.draft) : null
    if (!numbers) return 'Five numbers are enough for a first plan.'
    const others =
      pileBegun(state.draft) && left === 0
        ? 'No board is left to these numbers.'
        : 'These numbers stand for the boards not measured.'
    return `${measured} measured one by one, ${numbers.thinnest} to ${numbers.thickest}: they are all in the plan. ${others}`
  }

  function boardHint(measured, left) {
    const begun = measured && `${measured} ${measured === 1 ? 'board' : 'boards'} measured`
    const more = pileBegun(state.draft) && left > 0 && `${left} more as the pile says`
    return [begun, more].filter(Boolean).join(', ')
  }

  return {
    fields,
    away,
    showDoubt,
    takeBack,
    nextBoard,
    copyBoard() {
      const before = state.snapshot()
      const copied = steps.boardCopied(state.draft, state.hand)
      step(copied)
      offerUndo(`${copied.name} is a copy of ${copied.from}.`, () => state.restore(before))
    },
    deleteBoard() {
      const before = state.snapshot()
      const deleted = steps.boardDeleted(state.draft, state.hand)
      step(deleted)
      offerUndo(`Board ${deleted.gone} is deleted.`, () => state.restore(before))
    },
    neighbor: (by) => takeBoard(steps.neighbor(state.draft, state.hand, by)?.id),

    /** To the field that stands at a key of the document's places. */
    goTo(key) {
      const inBoard = /^b:([^.]+)(?:\.readings\.(\d+)|\.(\w+))?$/.exec(key)
      if (inBoard) {
        const [, id, n, part] = inBoard
        state.turn({view: 'lot', way: 'boards', hand: {board: id, chosen: n === undefined ? null : Number(n)}})
        const field = $(`[data-field="board.${part ?? 'entry'}"]`, root)
        open(field)
        fields.focus(field ? field.dataset.field : 'board.entry')
        return
      }
      const wanted = key === 'pile' ? 'pile.thickest' : key
      const view =
        key === 'title' || key === 'units'
          ? 'jobs'
          : /^(pile|service)/.test(key) || key === 'target.thickness'
            ? 'lot'
            : /^(rates|cutting|planer\.table)/.test(key)
              ? 'more'
              : 'planer'
      state.turn({view, ...(key.startsWith('pile') ? {way: 'pile'} : {})})
      open($(`[data-field="${CSS.escape(wanted)}"]`, root))
      fields.focus(wanted)
    },

    show() {
      const {measured, left} = tally(state.draft)
      const pile = $('#pile-hint', root)
      boards.show({
        boards: state.draft.boards,
        board: board(),
        chosen: state.hand.chosen,
        hint: boardHint(measured, left),
        sizeOf: ({width, length}) => [width, length].filter(Boolean).join(' × '),
      })
      spots.show(board(), steps.spotOf(state.draft, state.hand))
      say(pile, pileHint(measured, left))
      pile.classList.toggle('slip', upsideDown(state.draft))
      fields.show(textOf, placeholderOf)
      showPad()
    },
  }

  function open(field) {
    const folded = field?.closest('details')
    if (folded) folded.open = true
  }
}
