/** What is written about an engine on labels, tickets and in tables, turned into figures. */
@org.jspecify.annotations.NullMarked
package idlewright.reference.engine;
