// After the run: what a board measures now, by three spots of its middle or by a picture of it.

import {$, $$, around, h, say} from '../base/dom.js'
import {SPOTS} from '../base/fields.js'
import {goOn, toPartHead} from '../base/focus.js'
import {stepsOf} from '../base/places.js'
import {field, inputIn, measureField, tell, tellAll} from './measure_field.js'

/** @import {Problem} from '../base/types.js' */
/** @typedef {typeof import('../lot/spots.js').createSpots} DrawSpots */
/**
 * Texts that were measured: resolves to their problems, to none when they were taken, to null when nobody knows yet.
 * @typedef {object} Handlers
 * @property {(board: string, readings: string[], places: string[]) => Promise<Problem[] | null>} onFinal
 * @property {() => void} onTold these stand at their fields
 * @property {DrawSpots} spots draws the picture of the board
 */
/**
 * The run in hand: its job, the boards that are in the lot still and those that were measured since the last pass, by
 * name; how many events it has; its target [mm], where the pad starts, and as it is written.
 * @typedef {{job: string, names: string[], measured: string[], events: number, target: number, written: string}} Run
 */

const CENTERS = SPOTS.filter(({row}) => row === 1)
const PLACES = SPOTS.map(({place}) => place)

export class Finals {
  #handlers
  /** The text at each spot of the board in hand. @type {Record<string, string>} */
  #texts = {}
  /** The spot in hand. */
  #here = PLACES[0]
  /** @type {ReturnType<DrawSpots> | null} */
  #picture = null

  /** @type {Run} */
  #run = {job: '', names: [], measured: [], events: 0, target: 0, written: ''}
  /** How many events the run had when this came into view. */
  #since = 0

  #board = h('select', {id: 'final-board', onchange: () => this.#show()})
  #right = h('button', {type: 'button', class: 'strong', id: 'on-target', onclick: () => this.#onTarget()})
  #centers = CENTERS.map(({place, along}, n) =>
    measureField(along, `final-${n}`, 'fine', (event) => this.#typed(event), {'data-spot': place}),
  )
  #tapped = measureField('', 'final-here', 'fine', (event) => this.#typed(event))
  #drawn = h(
    'div',
    {},
    h(
      'p',
      {class: 'hint'},
      'Tap the spot, then enter its reading. Then it can be told where to cut when the board is short.',
    ),
  )
  #where = h(
    'details',
    {class: 'more', id: 'final-spots', ontoggle: () => this.#unfolded()},
    h('summary', {}, 'Where on the board?'),
    this.#drawn,
    this.#tapped,
  )
  #done = h('p', {class: 'hint', role: 'status'})
  #report = h(
    'button',
    {type: 'button', class: 'strong', 'data-go': 'more', 'data-unfold': 'more-after', hidden: true},
    'What came of it, and what was learned',
  )

  /** @param {Handlers} handlers */
  constructor(handlers) {
    this.#handlers = handlers
    this.root = h(
      'div',
      {id: 'finals', hidden: true},
      h('h2', {}, 'Measure what came out'),
      h('div', {class: 'board-now'}, field('Board', 'final-board', {}, this.#board), this.#right),
      h('div', {class: 'of-three'}, this.#centers),
      h(
        'div',
        {class: 'actions'},
        h('button', {type: 'button', class: 'strong', onclick: () => this.#take()}, 'Enter these'),
        h('button', {type: 'button', onclick: () => this.close()}, 'Back to the run'),
      ),
      this.#done,
      this.#report,
      this.#where,
    )
    this.#show()
  }

  /** In the place of the run's next step. */
  open() {
    this.#since = this.#run.events
    this.root.hidden = false
    this.root.parentElement?.toggleAttribute('data-measuring', true)
    say(this.#done, '')
    window.scrollTo(0, 0)
    goOn($('h2', this.root))
  }

  close() {
    if (this.root.hidden) return
    const focused = this.root.contains(document.activeElement)
    this.root.hidden = true
    this.root.parentElement?.toggleAttribute('data-measuring', false)
    window.scrollTo(0, 0)
    if (focused) toPartHead()
  }

  /** The run as it is: another job begins anew, and a board whose measures were undone comes to hand. @param {Run} run */
  show(run) {
    const before = this.#run
    this.#run = run
    const another = run.job !== before.job
    if (another) this.#texts = {}
    if (another || run.events < this.#since) this.close()
    for (const each of $$('[data-pad="fine"]', this.root)) each.dataset.nearMm = String(run.target)
    const board = this.#board
    const had = board.value
    const there = [...board.options].map((one) => one.value)
    if (there.join('\n') !== run.names.join('\n'))
      board.replaceChildren(...run.names.map((name) => h('option', {value: name}, name)))
    const undone = another ? undefined : before.measured.find((name) => !run.measured.includes(name))
    const wanted = undone ?? (another ? this.#unmeasured() : had)
    if (wanted !== undefined && run.names.includes(wanted)) board.value = wanted
    if (undone) say(this.#done, '')
    this.#show()
  }

  /** The next board in the order of the lot that is still to be measured. */
  #unmeasured(after = '') {
    const {names, measured} = this.#run
    const from = names.indexOf(after) + 1
    return [...names.slice(from), ...names.slice(0, from)].find((name) => !measured.includes(name))
  }

  /** Enter in one of the fields: on to the next one, the last of them enters. @param {HTMLElement} from */
  entered(from) {
    if (this.#tapped.contains(from)) return this.#to(PLACES[(PLACES.indexOf(this.#here) + 1) % PLACES.length])
    const at = this.#centers.findIndex((place) => place.contains(from))
    if (at + 1 < this.#centers.length) inputIn(this.#centers[at + 1]).focus()
    else this.#take()
  }

  #places() {
    return [...this.#centers, this.#tapped]
  }

  /** @param {HTMLElement} place */
  #spotOf(place) {
    return place.dataset.spot ?? this.#here
  }

  #taken() {
    return PLACES.filter((spot) => this.#texts[spot]?.trim())
  }

  #first() {
    return inputIn(this.#where.open ? this.#tapped : this.#centers[0])
  }

  #unfolded() {
    this.#picture ??= this.#handlers.spots(this.#drawn, {onSpot: (spot) => this.#to(spot)})
    this.#show()
  }

  /** @param {Event} event */
  #typed({target}) {
    const place = around(target, '.field')
    if (!place) return
    const spot = this.#spotOf(place)
    this.#texts[spot] = inputIn(place).value
    for (const each of this.#places()) if (this.#spotOf(each) === spot) tell(each, '')
    this.#show()
  }

  /** @param {string} spot */
  #to(spot) {
    this.#here = spot
    tell(this.#tapped, '')
    this.#show()
    inputIn(this.#tapped).focus()
  }

  /** The board in hand came out as it was wanted: one tap, and the next one comes to hand. */
  async #onTarget() {
    const name = this.#board.value
    this.#hold(true)
    const problems = await this.#handlers.onFinal(name, [this.#run.written], [])
    this.#hold(false)
    if (!problems) return
    if (problems.length) say(this.#done, problems.map(({text}) => text).join(' '))
    else this.#entered(name)
  }

  #show() {
    say(this.#right, `${this.#board.value} is on target`)
    this.#report.hidden = this.#unmeasured() !== undefined
    this.#right.disabled = !this.#run.written || this.#taken().length > 0
    for (const place of this.#places()) {
      const text = this.#texts[this.#spotOf(place)] ?? ''
      const input = inputIn(place)
      if (input.value !== text) input.value = text
    }
    say($('label', this.#tapped), `At ${SPOTS.find(({place}) => place === this.#here)?.words}`)
    const all = this.#taken()
    this.#picture?.show({readings: all.map((spot) => this.#texts[spot].trim()), places: all}, this.#here)
  }

  async #take() {
    const all = this.#taken()
    if (!all.length) return this.#first().focus()
    const name = this.#board.value
    const was = {...this.#texts}
    const readings = all.map((spot) => was[spot].trim())
    this.#hold(true)
    const problems = await this.#handlers.onFinal(name, readings, all)
    this.#hold(false)
    if (!problems) return
    for (const place of this.#places()) tell(place, '')
    if (problems.length) this.#refused(problems, all)
    else {
      for (const spot of all) if (this.#texts[spot] === was[spot]) delete this.#texts[spot]
      this.#entered(name)
    }
  }

  /** While the readings are taken, a tap that is ahead of them goes to no wrong spot. @param {boolean} on */
  #hold(on) {
    this.root.ariaBusy = String(on)
    for (const place of this.#places()) inputIn(place).readOnly = on
  }

  /** Problems of the readings at these spots. @param {Problem[]} problems @param {string[]} all */
  #refused(problems, all) {
    const spot = (/** @type {string} */ at) => all[Number(stepsOf(at).at(-1)) || 0]
    const center = (/** @type {string} */ one) => this.#centers.find((place) => place.dataset.spot === one)
    const aside = problems.map(({at}) => spot(at)).find((one) => !center(one))
    if (aside) {
      this.#where.open = true
      this.#here = aside
      this.#show()
    }
    // What is wrong at a spot that no field shows has to wait until that spot is in hand.
    const shown = problems.filter(({at}) => center(spot(at)) || spot(at) === this.#here)
    tellAll(this.root, shown, (at) => center(spot(at)) ?? this.#tapped)
    this.#handlers.onTold()
  }

  /** The readings of a board are in; the next one comes to hand. @param {string} name */
  #entered(name) {
    const going = this.root.contains(document.activeElement)
    const next = this.#unmeasured(name)
    if (next !== undefined) this.#board.value = next
    this.#here = PLACES[0]
    this.#show()
    say(
      this.#done,
      `Board ${name} is entered.${next === undefined ? ' Every board is measured.' : ` Now board ${next}.`}`,
    )
    // Whoever is entering goes on with the next board, under the same pad.
    if (next === undefined && going) goOn($('h2', this.root))
    else if (going && document.activeElement instanceof HTMLInputElement) this.#first().focus()
  }
}
