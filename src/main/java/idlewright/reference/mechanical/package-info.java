/** Pressures of the trade: compression, leak-down, injector balance, manifold vacuum, fuel pressure, exhaust. */
@org.jspecify.annotations.NullMarked
package idlewright.reference.mechanical;
