/** What can be at all: impossible input is refused with the range in words. */
@org.jspecify.annotations.NullMarked
package idlewright.reference.bounds;
