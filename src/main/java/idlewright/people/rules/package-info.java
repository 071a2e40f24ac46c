/** Pure rules of this room: what makes a password or PIN weak, and which addresses are local. */
@org.jspecify.annotations.NullMarked
package idlewright.people.rules;
