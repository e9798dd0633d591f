import type { XmlElement } from './read-xml.ts';

export function childrenNamed(element: XmlElement, name: string): XmlElement[] {
  return element.children.filter((child) => child.name === name);
}

export function childNamed(element: XmlElement, name: string): XmlElement | undefined {
  return element.children.find((child) => child.name === name);
}

/** All text in an element, that of markup inside it after its own; blanks around it removed. */
export function textIn(element: XmlElement): string {
  const inner = element.children.map(textIn).filter((text) => text !== '');
  return [element.text.trim(), ...inner].filter((text) => text !== '').join(' ');
}

/** An attribute's value without blanks around it, '' where it is missing. */
export function attribute(element: XmlElement, name: string): string {
  return Object.hasOwn(element.attributes, name) ? element.attributes[name].trim() : '';
}
