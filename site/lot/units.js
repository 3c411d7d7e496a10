// The units of the job: chosen when it is begun; changed later by an act of its own that says what it changes, and not
// once a run has begun.

import {$, $$, around, h, say, seek} from '../base/dom.js'
import {BOARD_TEXTS, PILE_TEXTS, SETTINGS} from '../base/fields.js'
import {isBlank, runOf, withUnits} from '../base/job.js'
import {aboutMm, withUnit} from '../base/lengths.js'

/** @import {Draft, State, Units} from '../base/types.js' */

/** @type {Record<Units, string>} */
const NAMES = {in: 'inches', mm: 'millimeters'}
/** @param {Units} units @returns {Units} */
const other = (units) => (units === 'in' ? 'mm' : 'in')

/**
 * `onChosen()`: the units of a lot that has nothing in it yet were chosen.
 * @param {HTMLElement} root
 * @param {State} state
 * @param {{onChosen: () => void}} handlers
 */
export function createUnits(root, state, {onChosen}) {
  const choice = $('.units', root)
  const line = $('.line-of-units', root)
  const words = $('p', line)
  const change = $('button', line)
  const act = $('.change-of-units', root)
  const isOpen = () => state.draft.example || isBlank(state.draft)

  document.addEventListener('change', ({target}) => {
    const radio = around(target, '.units input', HTMLInputElement)
    if (!radio || !isOpen()) return
    const to = radio.value === 'mm' ? 'mm' : 'in'
    if (state.draft.example) return state.openExample(to)
    state.change(withUnits(state.draft, to))
    onChosen()
  })
  change.addEventListener('click', () => {
    if (act.hidden) ask()
    else close()
  })

  function close() {
    act.hidden = true
    act.replaceChildren()
    change.setAttribute('aria-expanded', 'false')
  }

  function ask() {
    const {draft} = state
    const to = other(draft.units)
    const button = (/** @type {string} */ text, /** @type {() => void} */ onclick, kind = '') =>
      h('button', {type: 'button', class: kind, onclick}, text)
    act.replaceChildren(
      ...(runOf(draft).length
        ? [
            h(
              'p',
              {},
              `A run has begun, and its scale is read in ${NAMES[draft.units]}. The units of this job stay. A new lot may have others.`,
            ),
            h('div', {class: 'actions'}, button('Leave it', close)),
          ]
        : [
            ...whatChanges(draft, to),
            h(
              'div',
              {class: 'actions'},
              button(
                `Change to ${NAMES[to]}`,
                () => {
                  close()
                  state.change(withUnits(draft, to))
                },
                'strong',
              ),
              button('Leave it', close),
            ),
          ]),
    )
    act.hidden = false
    change.setAttribute('aria-expanded', 'true')
  }

  /** The draft whose change is asked about. @type {string} */
  let shown = ''
  return {
    show() {
      const {draft} = state
      const open = isOpen()
      choice.hidden = !open
      line.hidden = open
      document.documentElement.dataset.units = draft.units
      for (const radio of $$('.units input', document, HTMLInputElement)) radio.checked = radio.value === draft.units
      say(words, `A figure without a unit is in ${NAMES[draft.units]}.`)
      const now = JSON.stringify([draft.id, draft.units, draft.settings, draft.pile, draft.boards, draft.extra])
      if (now !== shown) close()
      shown = now
    },
  }
}

/** What a change of units changes, said. @param {Draft} draft @param {Units} to */
function whatChanges(draft, to) {
  const made = textsOf(withUnits(draft, to))
  const texts = textsOf(draft)
  const changed = texts.map((text, n) => [text, made[n]]).filter(([was, is]) => was !== is)
  const [was, is] = changed[0] ?? []
  const defaults = defaultsThatDiffer(draft, to)
  return [
    h(
      'p',
      {},
      `Nothing is converted. ${
        changed.length
          ? `What you entered keeps its meaning: ${was} is written ${is} from then on${changed.length > 1 ? `, and ${changed.length - 1} more likewise` : ''}.`
          : 'What you entered stays as it is.'
      }`,
    ),
    ...(defaults.length
      ? [
          h('p', {}, 'What you left empty stands for round figures of the new unit, so the plan may change:'),
          h('ul', {}, ...defaults.map((text) => h('li', {}, text))),
        ]
      : []),
  ]
}

/** All that was entered, in one order. @param {Draft} draft */
function textsOf({settings, pile, boards}) {
  return [
    ...Object.values(settings),
    ...PILE_TEXTS.map((key) => pile[key]),
    ...boards.flatMap((board) => [...board.readings, board.entry, ...BOARD_TEXTS.map((key) => board[key])]),
  ]
}

/** The figures that empty fields stand for, before and after. @param {Draft} draft @param {Units} to */
function defaultsThatDiffer({settings, units}, to) {
  return Object.entries(SETTINGS).flatMap(([path, told]) => {
    const [was, is] = [String(told[units] ?? ''), String(told[to] ?? '')]
    const label = seek(`[data-field="${CSS.escape(path)}"] label`)
    if (settings[path]?.trim() || !was || !is || !label || told.kind !== 'length') return []
    const same = Math.abs(aboutMm(was, units) - aboutMm(is, to)) < 1e-9
    return same ? [] : [`${label.textContent}: ${withUnit(was, units)} becomes ${withUnit(is, to)}`]
  })
}
