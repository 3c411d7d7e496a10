// A scrap measured: what the scale was set to and what came out, for the planer's record.

import {h, say} from '../base/dom.js'

/** @import {Answer, PlanerRecord} from '../base/types.js' */
/** The texts of the two fields. @typedef {Record<'scale' | 'measured', string>} Scrap */
/**
 * @typedef {object} Handlers
 * @property {(scrap: Scrap) => void} onRead wants it understood
 * @property {(record: PlanerRecord) => void} onTake puts a record into the planer
 * @property {() => void} onForget takes it out
 */

const WAIT = 300

/** @param {keyof Scrap} key @param {string} label */
function field(key, label) {
  const input = h('input', {id: `scrap-${key}`, autocomplete: 'off', spellcheck: 'false', enterkeyhint: 'next'})
  const problem = h('p', {class: 'problem'})
  return {key, input, problem, box: h('div', {class: 'field'}, h('label', {for: input.id}, label), input, problem)}
}

export class ScrapPart {
  #handlers
  #scale = field('scale', 'Scale set to')
  #measured = field('measured', 'Scrap measured')
  #found = h('div', {role: 'status'})
  #take = h(
    'button',
    {type: 'button', class: 'strong', hidden: true, onclick: () => this.#taken()},
    'Keep this with the planer',
  )
  #forget = h('button', {type: 'button', onclick: () => this.#handlers.onForget()}, 'Forget what was learned')
  #far = h('p', {class: 'hint'})
  /** What the scrap that is entered makes of the record. @type {PlanerRecord | null} */
  #record = null
  #leaving = false
  #timer = 0

  /** @param {HTMLElement} root @param {Handlers} handlers */
  constructor(root, handlers) {
    this.#handlers = handlers
    root.append(
      h(
        'p',
        {class: 'hint'},
        'Plane a scrap on both sides, the last pass at a mark of the scale, and measure it with the caliper. Two or three scraps at other marks are better than one.',
      ),
      h('div', {class: 'pair'}, this.#scale.box, this.#measured.box),
      this.#found,
      h('div', {class: 'actions'}, this.#take, this.#forget),
      this.#far,
    )
    root.addEventListener('input', () => this.#typed())
  }

  #fields() {
    return [this.#scale, this.#measured]
  }

  #entered() {
    return {scale: this.#scale.input.value, measured: this.#measured.input.value}
  }

  #typed() {
    this.#record = null
    this.#leaving = false
    this.#take.hidden = true
    this.#found.replaceChildren()
    for (const {problem} of this.#fields()) say(problem, '')
    clearTimeout(this.#timer)
    if (this.#fields().every(({input}) => input.value.trim()))
      this.#timer = setTimeout(() => this.#handlers.onRead(this.#entered()), WAIT)
  }

  #taken() {
    if (!this.#record) return
    this.#handlers.onTake(this.#record)
    for (const {input} of this.#fields()) input.value = ''
    this.#typed()
  }

  /** The person goes on: a scrap that was entered goes along, at once or as soon as it is understood. */
  leave() {
    this.#leaving = !this.#record
    this.#taken()
  }

  /**
   * The core's answer about `scrap`; its html only the core made.
   * @param {Scrap} scrap
   * @param {Answer<'scrap'>} answer
   */
  tell(scrap, answer) {
    if (JSON.stringify(scrap) !== JSON.stringify(this.#entered())) return
    const problems = answer.ok ? [] : answer.problems
    for (const {key, problem} of this.#fields()) {
      const mine = problems.filter(({at}) => at === `scrap.${key}`)
      say(problem, mine.map(({text}) => text).join(' '))
    }
    const elsewhere = problems.filter(({at}) => !at.startsWith('scrap.')).map(({text}) => text)
    this.#record = answer.ok ? answer.record : null
    this.#take.hidden = !this.#record
    if (answer.ok) this.#found.innerHTML = answer.html.scrap
    else say(this.#found, elsewhere.join(' '))
    if (this.#leaving) this.#taken()
  }

  /** What is known of the planer by now; nothing without a record. @param {PlanerRecord | null | undefined} record */
  show(record) {
    const count = record ? Number(record.runs ?? 1) : 0
    const rests = count === 1 ? '1 scrap or run' : `${count} scraps and runs`
    this.#forget.hidden = !record
    say(this.#far, count ? `What is known of the scale rests on ${rests}.` : '')
  }
}
