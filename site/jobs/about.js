// A job in the list, in a line: its title, what it is, and how far its run is.

import {asText, runOf, tally} from '../base/job.js'
import {aboutMm, withUnit} from '../base/lengths.js'

/** @import {Draft} from '../base/types.js' */

/** @param {Draft} job */
export const titleOf = (job) => job.title.trim() || 'Unnamed lot'

/**
 * `alike`: others have the same title, so its first reading tells it apart.
 * @param {Draft} job
 * @param {boolean} [alike]
 */
export function aboutOf(job, alike = false) {
  const first = job.boards.find(({readings}) => readings.length)?.readings[0] ?? job.pile.thickest.trim()
  const {total} = tally(job)
  const boards = total === 1 ? '1 board' : total > 1 ? `${total} boards` : ''
  const target = targetOf(job)
  const size = [boards, target && `to ${withUnit(target, job.units)}`].filter(Boolean).join(' ')
  return [alike && first && `first reading ${withUnit(first, job.units)}`, size, farOf(job)].filter(Boolean).join(', ')
}

/** The target of the lot, or the one that its run went over to. @param {Draft} job */
function targetOf(job) {
  const anew = runOf(job).findLast((event) => event?.did === 'retarget')
  return asText(anew?.thickness) || (job.settings['target.thickness'] ?? '')
}

/**
 * How far the run of a job is, by the setting that boards were fed at last. How many passes are through, only the core can tell.
 * @param {Draft} job
 */
function farOf(job) {
  if (!runOf(job).length) return ''
  const last = asText(runOf(job).findLast((event) => event?.did === 'feed')?.setting)
  if (Number.isNaN(aboutMm(last, job.units))) return 'run begun'
  const off = aboutMm(last, job.units) - aboutMm(targetOf(job), job.units)
  return `run begun, last fed at ${Math.abs(off) < 0.01 ? 'the target' : withUnit(last, job.units)}`
}
