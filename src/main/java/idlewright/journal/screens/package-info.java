/** The owner's page of the journal, and the doors to kept files. */
@NullMarked
package idlewright.journal.screens;

import org.jspecify.annotations.NullMarked;
