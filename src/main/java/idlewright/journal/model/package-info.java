/** Where entries and exhibits lie: rows that are only added, and files under their hash. */
@NullMarked
package idlewright.journal.model;

import org.jspecify.annotations.NullMarked;
