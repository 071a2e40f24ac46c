package idlewright.billing;

import idlewright.billing.EstimateView.Answered;
import idlewright.billing.EstimateView.Group;
import idlewright.billing.EstimateView.Written;
import idlewright.billing.rules.Change;
import idlewright.billing.rules.Channel;
import idlewright.billing.rules.Line;
import idlewright.billing.rules.LineKind;
import idlewright.billing.rules.Standing;
import idlewright.billing.rules.Taxes;
import idlewright.billing.rules.Total;
import idlewright.frame.Tuple;
import idlewright.intake.TicketNumber;
import idlewright.reference.money.Money;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Currency;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;

/** Makes records of all issues of a ticket's estimate. */
final class EstimateReads {

    private record Head(
            long id,
            int ticket,
            int issue,
            Instant madeAt,
            String madeBy,
            @Nullable Instant offeredAt,
            @Nullable String how,
            @Nullable String note) {}

    private record Row(Written written, @Nullable Answered answer) {}

    /** Every issue of a ticket's estimate with its lines, the oldest first; read by {@link #views}. */
    static final String OF_TICKET = """
            select e.*, (select json_agg(w) from (
                select l.*, a.agreed a_agreed, a.channel a_channel, a.by_whom a_by, a.at a_at,
                    exists (select from charge c where c.estimate_line_id = l.id
                        and not exists (select from charge_strike s where s.charge_id = c.id)) charged
                from estimate_line l
                left join lateral (select g.agreed, o.channel, o.by_whom, o.at
                    from offer_answer o join offer_answer_group g on g.answer_id = o.id
                    where o.estimate_id = l.estimate_id and g.place = l.place order by o.id desc limit 1) a on true
                where l.estimate_id = e.id order by l.nr) w) lines
            from estimate e where e.ticket_number = :ticket order by e.issue""";

    private EstimateReads() {}

    /** The newest issue first. */
    static List<EstimateView> views(List<Tuple> told, Taxes taxes, Currency currency) {
        var rows = new HashMap<Long, List<Row>>();
        var heads = new ArrayList<Head>();
        for (Tuple r : told) {
            var head = new Head(
                    r.getLong("id"),
                    r.getInt("ticket_number"),
                    r.getInt("issue"),
                    r.getInstant("made_at"),
                    r.getString("made_by"),
                    r.getInstant("offered_at"),
                    r.getString("offered_how"),
                    r.getString("note"));
            heads.add(head);
            rows.put(
                    head.id(),
                    r.getRows("lines").stream().map(line -> row(line, currency)).toList());
        }
        return views(heads, rows, taxes, currency);
    }

    private static List<EstimateView> views(
            List<Head> heads, Map<Long, List<Row>> rows, Taxes taxes, Currency currency) {
        var standings = Standing.of(
                heads.stream().map(head -> issue(rows.get(head.id()))).toList());
        var views = new ArrayList<EstimateView>();
        // A customer compares with what they were shown; what nobody offered is the shop's own affair.
        List<Line> shown = null;
        for (int i = 0; i < heads.size(); i++) {
            Head head = heads.get(i);
            List<Row> its = rows.getOrDefault(head.id(), List.of());
            List<Line> lines = its.stream().map(row -> row.written().line()).toList();
            views.add(
                    0,
                    new EstimateView(
                            head.id(),
                            new TicketNumber(head.ticket()),
                            head.issue(),
                            head.madeAt(),
                            head.madeBy(),
                            head.offeredAt(),
                            head.how(),
                            head.note(),
                            its.stream().map(Row::written).toList(),
                            groups(its, standings.get(i), taxes, currency),
                            shown == null ? List.of() : Change.between(shown, lines),
                            Total.of(lines, taxes, currency),
                            i == heads.size() - 1));
            if (head.offeredAt() != null) {
                shown = lines;
            }
        }
        return views;
    }

    private static List<Group> groups(
            List<Row> rows, Map<Integer, Standing> standings, Taxes taxes, Currency currency) {
        var groups = new ArrayList<Group>();
        byPlace(rows).forEach((place, its) -> {
            var written = its.stream().map(Row::written).toList();
            groups.add(new Group(
                    place,
                    written,
                    Total.of(written.stream().map(Written::line).toList(), taxes, currency),
                    standings.getOrDefault(place, Standing.OPEN),
                    its.get(0).answer()));
        });
        // What belongs to no symptom comes last, as on the invoice it is said last.
        groups.sort(java.util.Comparator.comparing(group -> group.place() == 0 ? Integer.MAX_VALUE : group.place()));
        return groups;
    }

    private static Standing.Issue issue(@Nullable List<Row> rows) {
        var lines = new TreeMap<Integer, List<Line>>();
        var answers = new TreeMap<Integer, Boolean>();
        byPlace(rows == null ? List.of() : rows).forEach((place, its) -> {
            lines.put(place, its.stream().map(row -> row.written().line()).toList());
            var answer = its.get(0).answer();
            if (answer != null) {
                answers.put(place, answer.agreed());
            }
        });
        return new Standing.Issue(lines, answers);
    }

    private static Map<Integer, List<Row>> byPlace(List<Row> rows) {
        var byPlace = new LinkedHashMap<Integer, List<Row>>();
        rows.forEach(row -> byPlace.computeIfAbsent(row.written().line().place(), place -> new ArrayList<>())
                .add(row));
        return byPlace;
    }

    private static Row row(Tuple r, Currency currency) {
        var line = new Line(
                r.getInt("place"),
                LineKind.valueOf(r.getString("kind")),
                r.getString("what"),
                r.getBigDecimal("quantity"),
                Money.rounded(r.getBigDecimal("each"), currency),
                r.getString("part_number"));
        Answered answer = r.getString("a_channel") == null
                ? null
                : new Answered(
                        r.getBoolean("a_agreed"),
                        Channel.valueOf(r.getString("a_channel")),
                        r.getString("a_by"),
                        r.getInstant("a_at"));
        return new Row(new Written(r.getLong("id"), line, r.getBoolean("charged")), answer);
    }
}
