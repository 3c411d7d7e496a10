// Beside the plan, folded: time, two lots, lengths, stock, support, butting, after the run. Whoever wants a schedule
// only never meets it.

import {$, h} from '../base/dom.js'
import {OwnForm} from './own_form.js'
import {PartRows} from './part_rows.js'

/** @import {Html, Part} from '../base/types.js' */
/** @typedef {import('./own_form.js').Handlers} FormHandlers */
/**
 * `defects.root` stands with the lengths, `snipe.root` with what comes after the run.
 * @typedef {object} Handlers
 * @property {(parts: Part[]) => void} onParts
 * @property {FormHandlers['onAsk']} onAsk answers a form of its own
 * @property {FormHandlers['forms']} forms
 * @property {FormHandlers['onForm']} onForm
 * @property {{root: HTMLElement}} defects
 * @property {{root: HTMLElement}} snipe
 */

const PLACES = [
  ['time', 'Where the minutes go, and the cost'],
  ['split', 'Two lots or one'],
  ['leave', 'How long to leave them'],
  ['slab', 'Will this board make it?'],
  ['buy', 'What to buy'],
  ['support', 'Long boards: hold them up'],
  ['butting', 'Butting boards end to end'],
  ['after', 'After the run'],
]

/** @param {HTMLElement} root @param {Handlers} handlers */
export function createQuestions(root, {onParts, onAsk, defects, snipe, forms, onForm}) {
  /** Where the core's answer goes. @type {Map<string, HTMLElement>} */
  const slots = new Map()
  /** The job's fields of one of the places, as the build wrote them. @param {string} name */
  const fields = (name) => $(`[data-fields="${name}"]`, root)
  const partList = h('ol', {id: 'part-rows'})
  const parts = new PartRows(partList, onParts)
  const addPart = h('button', {type: 'button', onclick: () => parts.add()}, 'Add a part')
  /** @param {string} name */
  const painter =
    (name) =>
    (/** @type {string} */ html, words = '') =>
      paint(slots.get(name), html, words)
  /** @param {import('./own_form.js').FormName} name */
  const form = (name) =>
    new OwnForm($(`[data-form="${name}"]`, root), name, {onAsk, forms, onForm, paint: painter(name)})
  const own = {slab: form('slab'), buy: form('buy')}
  /** What stands above the answer, and what below. @type {Record<string, (HTMLElement | undefined)[]>} */
  const above = {
    leave: [partList, addPart, defects.root, fields('leave')],
    slab: [own.slab.root],
    buy: [own.buy.root],
  }
  /** @type {Record<string, (HTMLElement | undefined)[]>} */
  const below = {time: [fields('time')], support: [fields('support')], after: [snipe.root]}
  for (const [name, title] of PLACES) {
    const slot = h('div', {'data-more': name})
    slots.set(name, slot)
    const summary = h('summary', {}, title)
    const whole = [summary, ...(above[name] ?? []), slot, ...(below[name] ?? [])]
    root.append(h('details', {class: 'more', id: `more-${name}`}, whole))
  }

  return {
    /** The core's answer, or why there is none. @param {Html} html */
    paint(html, words = '') {
      for (const [name, slot] of slots) if (!(name in own)) paint(slot, html[name] ?? '', html[name] ? '' : words)
    },
    /** What to ask why of the form of that name; undefined where there is none. @param {string} name */
    question: (name) => (name === 'slab' || name === 'buy' ? own[name].asked : undefined),
    /** The forms of their own are asked once more, as they were kept. */
    again() {
      own.slab.again()
      own.buy.again()
    },
    /** The draft's parts. @param {Part[]} given */
    show: (given) => parts.show(given),
  }
}

/** @param {HTMLElement | undefined} slot @param {string} html @param {string} words */
function paint(slot, html, words) {
  if (!slot || slot.dataset.painted === html + words) return
  slot.dataset.painted = html + words
  slot.innerHTML = html
  if (words) slot.append(h('p', {class: 'hint'}, words))
}
