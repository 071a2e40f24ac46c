/**
 * Who works here, what each may do, and at which door they come in: persons and roles, sign-in by password or by PIN at an
 * enrolled bay terminal, API keys, the shop itself. It never decides anything about a ticket.
 */
@org.jspecify.annotations.NullMarked
package idlewright.people;
