// A scrap measured: what the scale was set to and what came out, for the planer's record.

import {$, h, say} from '../base/dom.js'
import {FormEntries} from '../base/form_entries.js'

/** @import {Answer, BookEntry, PlanerRecord} from '../base/types.js' */
/** The texts of the two fields. @typedef {Record<'scale' | 'measured', string>} Scrap */
/**
 * @typedef {object} Handlers
 * @property {(scrap: Scrap) => void} onRead wants it understood
 * @property {(record: PlanerRecord, entry: BookEntry) => void} onTake puts a record into the planer, and the scrap into its book
 * @property {() => void} onForget takes it out
 */

const WAIT = 300

export class ScrapPart {
  #handlers
  #entries
  #found = h('div', {role: 'status'})
  #take = h(
    'button',
    {type: 'button', class: 'strong', hidden: true, onclick: () => this.#taken()},
    'Keep this with the planer',
  )
  #forget = h('button', {type: 'button', onclick: () => this.#handlers.onForget()}, 'Forget what was learned')
  #far = h('p', {class: 'hint'})
  /** What the scrap that is entered makes of the record, and the entry that it leaves. @type {{record: PlanerRecord, entry: BookEntry} | null} */
  #made = null
  #leaving = false
  #timer = 0

  /** @param {HTMLElement} root @param {Handlers} handlers */
  constructor(root, handlers) {
    this.#handlers = handlers
    this.#entries = new FormEntries($('[data-form]', root), () => this.#typed())
    root.append(this.#found, h('div', {class: 'actions'}, this.#take, this.#forget), this.#far)
  }

  #entered() {
    const {scale = '', measured = ''} = this.#entries.texts()
    return {scale, measured}
  }

  #typed() {
    this.#made = null
    this.#leaving = false
    this.#take.hidden = true
    this.#found.replaceChildren()
    this.#entries.tell([])
    clearTimeout(this.#timer)
    const {scale, measured} = this.#entered()
    if (scale && measured) this.#timer = setTimeout(() => this.#handlers.onRead(this.#entered()), WAIT)
  }

  #taken() {
    if (!this.#made) return
    this.#handlers.onTake(this.#made.record, this.#made.entry)
    this.#entries.fill({})
    this.#typed()
  }

  /** The person goes on: a scrap that was entered goes along, at once or as soon as it is understood. */
  leave() {
    this.#leaving = !this.#made
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
    this.#entries.tell(problems)
    const elsewhere = problems.filter(({at}) => !at.startsWith('scrap.')).map(({text}) => text)
    this.#made = answer.ok ? answer : null
    this.#take.hidden = !this.#made
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
