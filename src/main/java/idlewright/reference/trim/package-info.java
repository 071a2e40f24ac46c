/** Fuel trims by bank and band, and the patterns in them with the suspects they point to. Points; never declares a cause. */
@org.jspecify.annotations.NullMarked
package idlewright.reference.trim;
