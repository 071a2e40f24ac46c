package idlewright.people;

import java.util.Map;

/** Told (as a Spring event, in the same transaction where there is one) when something here is worth the journal. */
public record Happened(String kind, String sentence, Map<String, ?> facts) {}
