package idlewright.intake.rules;

import java.util.List;

/** A kind of complaint, and what is asked about it beyond what is always asked. */
public record SymptomKind(String key, String name, List<Question> asks) {}
