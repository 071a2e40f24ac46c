package idlewright.bench.rules;

import static org.assertj.core.api.Assertions.assertThat;

import idlewright.intake.rules.SymptomKinds;
import java.util.LinkedHashMap;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;

/** The counter asks from one file, the bench weighs by another: they are kept in step here. */
class HeardTest {

    private static final SymptomKinds COUNTER = SymptomKinds.load();
    private static final Catalogue BENCH = PatternsTest.CATALOGUE;

    @Test
    void knowsTheSameKindsOfComplaintByTheSameNamesAtCounterAndBench() {
        var bench = new LinkedHashMap<String, String>();
        BENCH.symptomKinds().forEach(kind -> bench.put(kind.key(), kind.name()));
        assertThat(COUNTER.names().keySet()).containsExactlyInAnyOrderElementsOf(bench.keySet());
    }

    @Test
    void findsEveryAnswerItWeighsAmongThoseTheCounterOffers() {
        var offered = COUNTER.all().stream()
                .flatMap(kind -> COUNTER.questions(kind.key()).stream())
                .collect(Collectors.toMap(
                        idlewright.intake.rules.Question::key,
                        idlewright.intake.rules.Question::choices,
                        (one, two) -> {
                            var both = new java.util.ArrayList<>(one);
                            both.addAll(two);
                            return both;
                        }));
        Heard.SAME.forEach((question, words) ->
                assertThat(offered.get(question)).as(question).containsAll(words.keySet()));
    }

    @Test
    void leadsEveryAnswerToOneTheCatalogueHas() {
        var questions = BENCH.symptomKinds().stream()
                .flatMap(kind -> kind.questions().stream())
                .collect(Collectors.toMap(Question::key, question -> question, (one, two) -> one));
        Heard.SAME.values().stream().flatMap(words -> words.values().stream()).forEach(answer -> {
            String[] parts = answer.split(":");
            assertThat(questions).as(answer).containsKey(parts[0]);
            assertThat(questions.get(parts[0]).choice(parts[1])).as(answer).isPresent();
        });
    }
}
