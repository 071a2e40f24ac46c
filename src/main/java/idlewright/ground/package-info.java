/**
 * The ground under the house: where the data lie and which PostgreSQL serves them.
 *
 * <p>It is no room and knows nothing of the rooms; no room calls it. Without {@code spring.datasource.url} it starts a
 * PostgreSQL of its own in the home folder; with one it keeps out of the way, and in both cases it refuses to serve from a
 * server that may forget what it has acknowledged.
 */
@NullMarked
package idlewright.ground;

import org.jspecify.annotations.NullMarked;
