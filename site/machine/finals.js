// After the run: what a board measures now, by three spots of its middle or by a picture of it, and how far in the snipe reaches.

import {$, $$, h, say} from '../base/dom.js'

const CENTERS = [
  ['end 1 center', 'At end 1'],
  ['middle center', 'In the middle'],
  ['end 2 center', 'At end 2'],
]
const SPOTS = ['end 1', 'middle', 'end 2'].flatMap((along) =>
  ['left', 'center', 'right'].map((across) => `${along} ${across}`),
)
const capital = (text) => text.charAt(0).toUpperCase() + text.slice(1)

function field(label, id, attributes, input) {
  return h(
    'div',
    {class: 'field', ...attributes},
    h('label', {for: id}, label),
    input,
    h('p', {class: 'problem', role: 'alert'}),
  )
}
const input = (id, pad, attributes) =>
  h('input', {id, 'data-pad': pad, autocomplete: 'off', spellcheck: 'false', enterkeyhint: 'next', ...attributes})
/** The pad is for it, as for a reading of the run: it is no text of the draft. */
const RUN = {'data-field': 'run.after'}

/**
 * `onFinal(board, readings, places)`, `onSnipe(lead, trail)`: resolve to the problems of these texts, to none when they were taken, to null
 * when nobody knows yet. `onTold()`: these stand at their fields. `spots(root, {onSpot})` draws the picture of the board.
 */
export function createFinals({onFinal, onSnipe, onTold, spots}) {
  /** The text at each spot of the board in hand. */
  const texts = {}
  let here = 'end 1 left'
  let picture = null

  const board = h('select', {id: 'final-board', onchange: show})
  const centers = CENTERS.map(([spot, label], n) =>
    field(label, `final-${n}`, {'data-spot': spot, ...RUN}, input(`final-${n}`, 'thickness', {oninput: typed})),
  )
  const tapped = field('', 'final-here', RUN, input('final-here', 'thickness', {oninput: typed}))
  const where = h(
    'details',
    {
      class: 'more',
      id: 'final-spots',
      ontoggle() {
        picture ??= spots(drawn, {onSpot: to})
        show()
      },
    },
    h('summary', {}, 'Where on the board?'),
  )
  const drawn = h(
    'div',
    {},
    h('p', {class: 'hint'}, 'Tap the spot, then enter its reading. It tells where to cut when the board is short.'),
  )
  where.append(drawn, tapped)
  const snipe = [
    ['lead', 'The end that led'],
    ['trail', 'The end that trailed'],
  ].map(([key, label]) =>
    field(
      label,
      `snipe-${key}`,
      RUN,
      input(`snipe-${key}`, 'figures', {oninput: ({target}) => tell(target.closest('.field'), '')}),
    ),
  )
  const done = h('p', {class: 'hint', role: 'status'})
  const root = h(
    'div',
    {id: 'finals', hidden: true},
    h('h4', {}, 'Measure what came out'),
    done,
    h('div', {class: 'pair'}, field('Board', 'final-board', {}, board), centers),
    where,
    h('button', {type: 'button', onclick: take}, 'Enter these'),
    h('h4', {}, 'How far in the snipe reaches'),
    h('div', {class: 'pair'}, snipe),
    h('button', {type: 'button', onclick: takeSnipe}, 'Enter the snipe'),
  )

  const spotOf = (place) => place.dataset.spot ?? here
  const taken = () => SPOTS.filter((spot) => texts[spot]?.trim())

  function typed({target}) {
    const place = target.closest('.field')
    texts[spotOf(place)] = target.value
    for (const each of [...centers, tapped]) if (spotOf(each) === spotOf(place)) tell(each, '')
    show()
  }

  function to(spot) {
    here = spot
    tell(tapped, '')
    show()
    $('input', tapped).focus()
  }

  function tell(place, text) {
    say($('.problem', place), text)
    place.classList.toggle('wrong', text !== '')
    $('input', place).setAttribute('aria-invalid', String(text !== ''))
  }

  /** Problems beside their fields, without what the field's own label says. */
  function tellAll(problems, placeOf) {
    for (const {at, text, about} of problems) tell(placeOf(at), about ? capital(text.slice(about.length + 2)) : text)
    $('.wrong input', root)?.focus()
    onTold()
  }

  function show() {
    for (const place of [...centers, tapped]) {
      const text = texts[spotOf(place)] ?? ''
      if ($('input', place).value !== text) $('input', place).value = text
    }
    say($('label', tapped), `At ${here.replace('middle', 'the middle').replace(/ (\w+)$/, ', $1')}`)
    const all = taken()
    picture?.show({readings: all.map((spot) => texts[spot].trim()), places: all}, here)
  }

  async function take() {
    const all = taken()
    if (!all.length) return $('input', where.open ? tapped : centers[0]).focus()
    const name = board.value
    const was = {...texts}
    const problems = await onFinal(
      name,
      all.map((spot) => was[spot].trim()),
      all,
    )
    if (!problems) return
    for (const place of [...centers, tapped]) tell(place, '')
    if (problems.length) {
      const spot = (at) => all[/\[(\d+)\]$/.exec(at)?.[1] ?? 0]
      const center = (one) => centers.find((place) => place.dataset.spot === one)
      const aside = problems.map(({at}) => spot(at)).find((one) => !center(one))
      if (aside) {
        where.open = true
        here = aside
        show()
      }
      // What is wrong at a spot that no field shows has to wait until that spot is in hand.
      const shown = problems.filter(({at}) => center(spot(at)) || spot(at) === here)
      return tellAll(shown, (at) => center(spot(at)) ?? tapped)
    }
    for (const spot of all) if (texts[spot] === was[spot]) delete texts[spot]
    const last = board.selectedIndex === board.options.length - 1
    const going = root.contains(document.activeElement)
    if (board.value === name && !last) board.selectedIndex += 1
    here = 'end 1 left'
    show()
    say(done, `Board ${name} is entered.${last ? ' What came of it stands above.' : ` Now board ${board.value}.`}`)
    // Whoever is entering goes on with the next board, under the same pad.
    if (last) document.activeElement?.blur()
    else if (going) $('input', where.open ? tapped : centers[0]).focus()
  }

  async function takeSnipe() {
    const [lead, trail] = snipe.map((place) => $('input', place).value.trim())
    if (!lead && !trail) return $('input', snipe[0]).focus()
    const problems = await onSnipe(lead || '0', trail || '0')
    if (!problems) return
    for (const place of snipe) tell(place, '')
    if (problems.length) return tellAll(problems, (at) => snipe[at.endsWith('trail') ? 1 : 0])
    for (const place of snipe) $('input', place).value = ''
    document.activeElement?.blur()
  }

  /** Enter in one of the fields: on to the next one, the last of them enters. */
  function entered(from) {
    if (tapped.contains(from)) return to(SPOTS[(SPOTS.indexOf(here) + 1) % SPOTS.length])
    const row = [centers, snipe].find((places) => places.some((place) => place.contains(from)))
    const next = row[row.findIndex((place) => place.contains(from)) + 1]
    if (next) $('input', next).focus()
    else (row === centers ? take : takeSnipe)()
  }

  show()
  return {
    root,
    entered,
    /** The names of the boards that are in the lot still, whether a run is begun, and the target [mm], where the pad starts. */
    show(names, running, target) {
      for (const each of $$('[data-pad="thickness"]', root)) each.dataset.nearMm = target
      const had = board.value
      if (
        $$('option', board)
          .map((one) => one.value)
          .join('\n') !== names.join('\n')
      ) {
        board.replaceChildren(...names.map((name) => h('option', {value: name}, name)))
        if (names.includes(had)) board.value = had
      }
      root.hidden = !running
    },
  }
}
