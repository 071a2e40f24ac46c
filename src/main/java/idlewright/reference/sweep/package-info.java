/** Reads a sweep, a series of points from a slow ramp, for flat spots, spikes, dropouts, backward steps and saturation. */
@org.jspecify.annotations.NullMarked
package idlewright.reference.sweep;
