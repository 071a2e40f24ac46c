/** Sums of money with their currency, tax, and the one place where cents are rounded. */
@org.jspecify.annotations.NullMarked
package idlewright.reference.money;
