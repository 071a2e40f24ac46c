/** The house: one package below this one is one room, and a room may look back, never ahead. */
package idlewright;
