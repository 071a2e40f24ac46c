/** The rows behind this room and their verbs. */
package idlewright.people.model;
