/** How threads are grouped, and what may be said of a group, however small it is. */
package idlewright.insight.rules;
