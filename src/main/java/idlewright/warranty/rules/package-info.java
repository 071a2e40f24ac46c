/** Until when work is covered, what is hidden from strangers, how a dossier is sealed and checked. */
@NamedInterface("rules")
package idlewright.warranty.rules;

import org.springframework.modulith.NamedInterface;
