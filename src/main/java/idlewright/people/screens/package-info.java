/** The pages of this room, and the doors of the whole house: who may reach which handler. */
@org.jspecify.annotations.NullMarked
package idlewright.people.screens;
