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
  const target = job.settings['target.thickness']
  const size = [boards, target && `to ${withUnit(target, job.units)}`].filter(Boolean).join(' ')
  return [alike && first && `first reading ${withUnit(first, job.units)}`, size, farOf(job)].filter(Boolean).join(', ')
}

/** How far the run of a job is, by the settings that boards were fed at. @param {Draft} job */
function farOf(job) {
  if (!runOf(job).length) return ''
  const fed = runOf(job).filter((event) => event?.did === 'feed')
  const settings = [...new Set(fed.map(({setting}) => asText(setting)))]
  const off = aboutMm(settings.at(-1) ?? '', job.units) - aboutMm(job.settings['target.thickness'] ?? '', job.units)
  const many = settings.length === 1 ? '1 pass' : `${settings.length} passes`
  return settings.length ? `${many} fed${Math.abs(off) < 0.01 ? ', the last at the target' : ''}` : 'run begun'
}
