/**
 * The whole house through a browser, as its people use it. Needs a Chromium; where there is none these tests say so and are
 * skipped.
 */
package idlewright.journey;
