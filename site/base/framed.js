// Inside a page of another origin a tap can be made to land on what a person does not see: ours does not work there.

import {h} from './dom.js'

/** Whether a page around this one is of another origin. */
export function isFramed() {
  try {
    for (let at = window; at !== at.parent; at = /** @type {typeof window} */ (at.parent))
      if (at.parent.location.origin !== location.origin) return true
  } catch {
    return true // it hides what it is
  }
  return false
}

/** Leave nothing on the page but the way out of the frame. */
export function refuseFrame() {
  const out = h('a', {class: 'button', href: location.href, target: '_top'}, 'Open Thickset by itself')
  const why = 'Thickset does not work inside a page of somebody else: a tap there may do what you do not see.'
  document.documentElement.dataset.wired = '' // nothing more is on its way
  document.body.replaceChildren(h('main', {}, h('h1', {}, 'Thickset'), h('p', {}, why), h('p', {}, out)))
  throw new Error('Thickset is framed by another origin')
}
