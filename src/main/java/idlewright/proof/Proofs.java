package idlewright.proof;

import idlewright.bench.Bench;
import idlewright.bench.KnownGoods;
import idlewright.bench.MeasurementView;
import idlewright.bench.ReadingView;
import idlewright.bench.rules.TestResult;
import idlewright.frame.OnlyReads;
import idlewright.frame.Refused;
import idlewright.frame.Tuple;
import idlewright.intake.SymptomRef;
import idlewright.intake.TicketNumber;
import idlewright.intake.Tickets;
import idlewright.intake.rules.ThreadStamp;
import idlewright.journal.Journal;
import idlewright.people.People;
import idlewright.proof.ProofView.ComparedView;
import idlewright.proof.ProofView.Frozen;
import idlewright.proof.ProofView.Pair;
import idlewright.proof.ProofView.Proved;
import idlewright.proof.ProofView.Told;
import idlewright.proof.rules.Codes;
import idlewright.proof.rules.Monitors;
import idlewright.proof.rules.RoadTest;
import idlewright.proof.rules.SideBySide;
import idlewright.proof.rules.SideBySide.Compared;
import idlewright.proof.rules.Statement;
import idlewright.repair.SwapView;
import idlewright.repair.Swaps;
import java.sql.Timestamp;
import java.time.Clock;
import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** A repair is proved by the same test under the same conditions; where that cannot be had, it is said, not hidden. */
@Component
@Transactional
public class Proofs {

    static final String OF_TICKET = """
            select p.*, (select json_agg(q order by q.nr) from proof_pair q where q.proof_id = p.id) pairs
            from proof p where p.ticket_number = :ticket order by p.id""";

    private static final String NOTED = "Codes and monitors";

    private final ProofReads reads;
    private final Bench bench;
    private final KnownGoods knownGoods;
    private final Swaps swaps;
    private final Tickets tickets;
    private final People people;
    private final Journal journal;
    private final JdbcClient jdbc;
    private final Clock clock;

    Proofs(
            ProofReads reads,
            Bench bench,
            KnownGoods knownGoods,
            Swaps swaps,
            Tickets tickets,
            People people,
            Journal journal,
            JdbcClient jdbc,
            Clock clock) {
        this.reads = reads;
        this.bench = bench;
        this.knownGoods = knownGoods;
        this.swaps = swaps;
        this.tickets = tickets;
        this.people = people;
        this.journal = journal;
        this.jdbc = jdbc;
        this.clock = clock;
    }

    /** Every test that found something outside beside its repetition, and what is still missing. */
    @OnlyReads
    public ProofView look(SymptomRef ref) {
        tickets.get(ref.ticket()).symptom(ref.place());
        List<MeasurementView> measurements = bench.of(ref.ticket()).stream()
                .filter(test -> test.finished() && test.places().contains(ref.place()))
                .toList();
        Map<Long, MeasurementView> byId = measurements.stream().collect(Collectors.toMap(MeasurementView::id, m -> m));
        Map<Long, TestResult> results = bench.results(ref.ticket());
        List<SideBySide.Test> tests = measurements.stream()
                .map(test -> new SideBySide.Test(
                        test.id(), test.after(), test.startedAt(), result(results, test), test.conditions()))
                .toList();
        var compared = new ArrayList<ComparedView>();
        var missing = new ArrayList<String>();
        Instant mendedAt = lastPartFinal(ref);
        for (Compared each : SideBySide.of(tests, mendedAt)) {
            MeasurementView before =
                    Objects.requireNonNull(byId.get(each.before().id()));
            MeasurementView after =
                    each.after() == null ? null : byId.get(each.after().id());
            List<String> reasons =
                    each.proof() == null ? List.of() : each.proof().reasons();
            compared.add(new ComparedView(
                    before, after, each.proved(), each.words(), reasons, pairs(before, after), repeatUrl(ref, before)));
            if (each.proof() == null) {
                missing.add(
                        "%s was outside before the repair and is not repeated yet.".formatted(before.procedureName()));
            } else if (!each.proved()) {
                reasons.forEach(reason -> missing.add(before.procedureName() + ": " + reason));
            }
        }
        if (compared.isEmpty()) {
            missing.add("No test before the repair found anything outside, so none can show that the repair helped.");
        }
        return new ProofView(
                ref,
                compared,
                missing,
                Noted.codes(measurements),
                Noted.rows(measurements, mendedAt),
                driven(measurements),
                of(ref).orElse(null));
    }

    private static TestResult result(Map<Long, TestResult> results, MeasurementView test) {
        TestResult result = results.get(test.id());
        if (result == null) {
            throw Refused.because("The catalogue no longer has the procedure of a test: " + test.procedureName() + ".");
        }
        return result;
    }

    /** Proves a thread by measurement and makes its readings after the repair the shop's known good. */
    public void prove(SymptomRef ref, Statement statement) {
        ProofView view = look(ref);
        mustBeOpen(ref);
        if (!view.measured()) {
            throw Refused.because("Not proved: " + String.join(" ", view.missing()));
        }
        Refused.ifAny(statement.against(true, view.recordedCodes(), view.monitors()));
        String said = view.compared().stream()
                .flatMap(each -> each.reasons().stream())
                .filter(reason -> !reason.startsWith("Worth knowing"))
                .collect(Collectors.joining(" "));
        long id = keep(ref, true, null, statement, said);
        freeze(id, view);
        freezeNoted(id, view);
        stamp(ref, said);
        knownGoods.bringIn(ref);
    }

    /**
     * Ends a thread on the road test alone, because no comparable measurement can be had: kept as that, never shown as a
     * measured proof, and nothing of it becomes known good.
     */
    public void proveByRoadTest(SymptomRef ref, Statement statement, String reason) {
        ProofView view = look(ref);
        mustBeOpen(ref);
        var problems = new LinkedHashMap<String, String>();
        if (reason.isBlank() || reason.length() > 400) {
            problems.put("reason", "Say plainly why it cannot be measured, in up to 400 letters.");
        }
        if (view.measured()) {
            problems.put("", "The measurements prove it: use them.");
        }
        if (view.compared().stream()
                .anyMatch(each -> each.after() != null && each.words().equals("not proved"))) {
            problems.put("", "A repeated test still says that it is not in order. A road test does not outweigh that.");
        }
        problems.putAll(statement.against(false, view.recordedCodes(), view.monitors()));
        Refused.ifAny(problems);
        String said = "By road test only, not measured: " + reason;
        freezeNoted(keep(ref, false, reason, statement, said), view);
        stamp(ref, said);
    }

    /** The proof of a thread, when it is had. */
    @OnlyReads
    public Optional<Proved> of(SymptomRef ref) {
        return of(ref.ticket()).stream()
                .filter(proved -> proved.place() == ref.place())
                .findFirst();
    }

    /** The proofs of a ticket. */
    @OnlyReads
    public List<Proved> of(TicketNumber number) {
        return reads.of(number).proofs();
    }

    static Proved view(Tuple r) {
        return new Proved(
                r.getInt("place"),
                r.getString("how").equals("MEASURED"),
                r.getString("reason"),
                with(Codes.valueOf(r.getString("codes")).words(), r.getString("codes_note")),
                with(Monitors.valueOf(r.getString("monitors")).words(), r.getString("monitors_note")),
                with(RoadTest.valueOf(r.getString("road_test")).words(), r.getString("road_test_note")),
                r.getString("verified_by"),
                r.getString("statement"),
                r.getInstant("at"),
                r.getString("who"),
                r.getRows("pairs").stream()
                        .map(q -> new Frozen(
                                q.getString("procedure_name"),
                                q.getString("label"),
                                q.getString("before_shown"),
                                q.getString("before_called"),
                                q.getString("after_shown"),
                                q.getString("after_called"),
                                q.getString("ground")))
                        .toList());
    }

    private void mustBeOpen(SymptomRef ref) {
        var carried = tickets.get(ref.ticket()).symptom(ref.place()).carried();
        if (!ThreadStamp.PROVED.mayFollow(carried)) {
            throw Refused.because(
                    carried.contains(ThreadStamp.MENDED) ? "This symptom has ended." : ThreadStamp.PROVED.whyNot());
        }
    }

    private long keep(SymptomRef ref, boolean measured, @Nullable String reason, Statement statement, String said) {
        long id = jdbc.sql("""
                insert into proof (ticket_number, place, how, reason, codes, codes_note, monitors, monitors_note,
                    road_test, road_test_note, verified_by, statement, at, who)
                values (:ticket, :place, :how, :reason, :codes, :codesNote, :monitors, :monitorsNote,
                    :road, :roadNote, :verified, :statement, :at, :who) returning id""")
                .param("ticket", ref.ticket().value())
                .param("place", ref.place())
                .param("how", measured ? "MEASURED" : "ROAD_TEST")
                .param("reason", reason)
                .param("codes", statement.codes().name())
                .param("codesNote", orNull(statement.codesNote()))
                .param("monitors", statement.monitors().name())
                .param("monitorsNote", orNull(statement.monitorsNote()))
                .param("road", statement.roadTest().name())
                .param("roadNote", orNull(statement.roadTestNote()))
                .param("verified", orNull(statement.verifiedBy()))
                .param("statement", said)
                .param("at", Timestamp.from(clock.instant()))
                .param("who", people.me().name())
                .query(Long.class)
                .single();
        journal.note(
                measured ? "proved" : "road test only",
                ref.ticket().value(),
                "Symptom %d: %s"
                        .formatted(ref.place(), measured ? "proved by measurement." : "judged by road test only."),
                Map.of(
                        "proof",
                        id,
                        "place",
                        ref.place(),
                        "codes",
                        statement.codes().name()));
        return id;
    }

    private void freeze(long id, ProofView view) {
        for (ComparedView each : view.compared()) {
            for (Pair pair : each.pairs()) {
                ReadingView after = pair.after();
                if (after == null || each.after() == null) {
                    continue;
                }
                freeze(
                        id,
                        each.before().id(),
                        each.after().id(),
                        new Frozen(
                                each.before().procedureName(),
                                pair.before().label(),
                                pair.before().shown(),
                                pair.before().called(),
                                after.shown(),
                                after.called(),
                                after.ground()));
            }
        }
    }

    /** Codes and monitors stand beside the readings; they prove nothing, so they are not called good or bad. */
    private void freezeNoted(long id, ProofView view) {
        for (Told each : view.noted()) {
            boolean compared = view.compared().stream()
                    .flatMap(test -> test.pairs().stream())
                    .anyMatch(pair ->
                            pair.after() != null && pair.before().label().equals(each.label()));
            if (each.before() != null && each.after() != null && !compared) {
                freeze(
                        id,
                        each.before().test(),
                        each.after().test(),
                        new Frozen(
                                NOTED,
                                each.label(),
                                each.before().shown(),
                                Frozen.NOTED,
                                each.after().shown(),
                                Frozen.NOTED,
                                ""));
            }
        }
    }

    private void freeze(long id, long before, long after, Frozen pair) {
        jdbc.sql("""
                insert into proof_pair (proof_id, nr, before_test, after_test, procedure_name, label,
                    before_shown, before_called, after_shown, after_called, ground)
                values (:id, (select count(*) + 1 from proof_pair where proof_id = :id), :before, :after, :procedure,
                    :label, :beforeShown, :beforeCalled, :afterShown, :afterCalled, :ground)""")
                .param("id", id)
                .param("before", before)
                .param("after", after)
                .param("procedure", pair.procedure())
                .param("label", pair.label())
                .param("beforeShown", pair.beforeShown())
                .param("beforeCalled", pair.beforeCalled())
                .param("afterShown", pair.afterShown())
                .param("afterCalled", pair.afterCalled())
                .param("ground", pair.ground())
                .update();
    }

    private void stamp(SymptomRef ref, String said) {
        tickets.stamp(ref, ThreadStamp.PROVED, said.length() > 200 ? said.substring(0, 199) + "…" : said);
    }

    /** From when on a repeated test counts: a part called final later makes an earlier repetition worthless. */
    private Instant lastPartFinal(SymptomRef ref) {
        return swaps.of(ref.ticket()).stream()
                .filter(swap -> swap.thread().equals(ref))
                .map(SwapView::ended)
                .filter(ended -> ended != null && ended.isFinal())
                .map(SwapView.Ended::at)
                .max(Instant::compareTo)
                .orElse(Instant.EPOCH);
    }

    private static List<Pair> pairs(MeasurementView before, @Nullable MeasurementView after) {
        return before.readings().stream()
                .filter(reading -> reading.judged() && !reading.point().equals(Noted.MONITORS))
                .map(reading -> new Pair(
                        reading,
                        after == null
                                ? null
                                : after.readings().stream()
                                        .filter(other ->
                                                other.point().equals(reading.point()) && other.spot() == reading.spot())
                                        .findFirst()
                                        .orElse(null)))
                .toList();
    }

    private static String repeatUrl(SymptomRef ref, MeasurementView before) {
        return "/bay/%s/tests/%s?after=true&place=%d".formatted(ref.ticket(), before.procedure(), ref.place());
    }

    private static @Nullable RoadTest driven(List<MeasurementView> measurements) {
        return measurements.stream()
                .filter(test -> test.after() && test.procedure().equals("road-test"))
                .flatMap(test -> test.readings().stream())
                .filter(reading -> reading.point().equals("complaint"))
                .map(reading -> switch (reading.shown()) {
                    case "gone" -> RoadTest.GONE;
                    case "better but there" -> RoadTest.BETTER;
                    case "the same" -> RoadTest.SAME;
                    default -> RoadTest.WORSE;
                })
                .reduce((first, second) -> second)
                .orElse(null);
    }

    private static String with(String words, @Nullable String note) {
        return note == null ? words : words + ", " + note;
    }

    private static @Nullable String orNull(String text) {
        return text.isBlank() ? null : text;
    }
}
