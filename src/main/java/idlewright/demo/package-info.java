/**
 * A shop of our own invention with eighteen months behind it, made at the first start of the profile {@code demo} through
 * the same front doors that the screens use. It stands outside the house; no room knows of it.
 */
@NullMarked
package idlewright.demo;

import org.jspecify.annotations.NullMarked;
