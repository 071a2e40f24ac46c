/** Supply, ground, voltage drop, battery and charging of a 12 V vehicle, judged from volts. */
@org.jspecify.annotations.NullMarked
package idlewright.reference.electric;
