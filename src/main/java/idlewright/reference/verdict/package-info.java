/** The words a judged reading is given: verdict, the ground it stands on, and the sentence a person reads. */
@org.jspecify.annotations.NullMarked
package idlewright.reference.verdict;
