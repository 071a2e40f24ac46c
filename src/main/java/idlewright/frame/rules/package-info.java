/** Geometry of the pictures: pure functions from numbers to places on a page. Knows no room and no page. */
@NullMarked
package idlewright.frame.rules;

import org.jspecify.annotations.NullMarked;
