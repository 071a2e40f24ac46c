/**
 * Scan-tool logs of any tool: what each column is, whether the log can be of a car at all, and the steady states,
 * ramps, distance and fuel in it. Reads a stream once, in bounded memory.
 */
@org.jspecify.annotations.NullMarked
package idlewright.reference.obd.log;
