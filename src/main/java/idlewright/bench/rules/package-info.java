/**
 * What readings mean: the catalogue of symptoms, causes and procedures, the verdicts, the ranking of causes, the next
 * test and the proof. Pure Java; knows no clock, no store and no chance.
 */
@NullMarked
@NamedInterface("rules")
package idlewright.bench.rules;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.NamedInterface;
