// After the run: how far in the snipe reaches, at either end.

import {$, h} from '../base/dom.js'
import {goOn} from '../base/focus.js'
import {inputIn, measureField, tell, tellAll, untell} from './measure_field.js'

/** @import {Problem} from '../base/types.js' */

/**
 * `onSnipe(lead, trail)`, `onTold()`: see finals.js.
 * @param {{onSnipe: (lead: string, trail: string) => Promise<Problem[] | null>, onTold: () => void}} handlers
 */
export function createSnipe({onSnipe, onTold}) {
  const lead = measureField('The end that led', 'snipe-lead', 'figures', untell)
  const trail = measureField('The end that trailed', 'snipe-trail', 'figures', untell)
  const pair = h('div', {class: 'pair'}, lead, trail)

  async function take() {
    const [led, trailed] = [lead, trail].map((place) => inputIn(place).value.trim())
    if (!led && !trailed) return inputIn(lead).focus()
    const problems = await onSnipe(led || '0', trailed || '0')
    if (!problems) return
    for (const place of [lead, trail]) tell(place, '')
    if (problems.length) {
      tellAll(pair, problems, (at) => (at.endsWith('trail') ? trail : lead))
      onTold()
      return
    }
    for (const place of [lead, trail]) inputIn(place).value = ''
    goOn($('h2', root))
  }

  const root = h(
    'div',
    {id: 'snipe'},
    h('h2', {}, 'How far in the snipe reaches'),
    pair,
    h('button', {type: 'button', onclick: take}, 'Enter the snipe'),
  )
  return {
    root,
    /** Enter in one of the fields: on to the next one, the last of them enters. @param {HTMLElement} from */
    entered(from) {
      if (lead.contains(from)) inputIn(trail).focus()
      else take()
    },
  }
}
