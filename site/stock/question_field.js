// A field of the questions beside the plan: label, input, how it was understood, what is wrong with it.

import {h} from '../base/dom.js'

/** @import {Attributes} from '../base/dom.js' */

/**
 * @param {string} label
 * @param {string} id
 * @param {Attributes} attributes
 * @param {HTMLElement} input
 */
export function field(label, id, attributes, input) {
  return h(
    'div',
    {...attributes, class: `field ${attributes.class ?? ''}`},
    h('label', {for: id}, label),
    input,
    h('p', {class: 'understood'}),
    h('p', {class: 'problem'}),
  )
}
