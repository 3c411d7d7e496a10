// What stands above the five numbers and above the board in hand: how much of the lot is measured.

import {fiveNumbers, pileBegun} from '../base/job.js'

/** @import {Draft, Way} from '../base/types.js' */
/** @typedef {{measured: number, left: number}} Tally */

/** @param {Draft} draft @param {Way} way @param {Tally} tally */
export function pileHint(draft, way, {measured, left}) {
  const numbers = way === 'pile' ? fiveNumbers(draft) : null
  if (!numbers) return 'Five numbers are enough for a first plan.'
  const others =
    pileBegun(draft) && left === 0
      ? 'No board is left to these numbers.'
      : 'These numbers stand for the boards not measured.'
  return `${measured} measured one by one, ${numbers.thinnest} to ${numbers.thickest}: they are all in the plan. ${others}`
}

/** @param {Draft} draft @param {Tally} tally */
export function boardHint(draft, {measured, left}) {
  const begun = measured && `${measured} ${measured === 1 ? 'board' : 'boards'} measured`
  const more = pileBegun(draft) && left > 0 && `${left} more as the pile says`
  return [begun, more].filter(Boolean).join(', ')
}
