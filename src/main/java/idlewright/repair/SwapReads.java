package idlewright.repair;

import idlewright.frame.Tuple;
import idlewright.intake.SymptomRef;
import idlewright.intake.TicketNumber;
import idlewright.journal.Exhibit;
import idlewright.reference.money.Money;
import idlewright.repair.SwapView.Ended;
import idlewright.repair.SwapView.Photo;
import idlewright.repair.rules.Answer;
import idlewright.repair.rules.Check;
import idlewright.repair.rules.FittedPart;
import idlewright.repair.rules.NumberGround;
import idlewright.repair.rules.PartNumbers;
import idlewright.repair.rules.Pay;
import idlewright.repair.rules.RemovedPart;
import idlewright.repair.rules.Went;
import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.Currency;
import java.util.EnumMap;
import org.jspecify.annotations.Nullable;

/** Makes records of swaps with their steps, answers and photos. */
final class SwapReads {

    /** Which of the two parts a photo shows. */
    enum Side {
        REMOVED,
        FITTED
    }

    /** Every swap of a ticket with its steps, answers and photos; read by {@link #view}. A photo that was struck out is left out. */
    static final String OF_TICKET = """
            select s.*, g.source ground_source, g.reason ground_reason, g.by_whom ground_by_whom, g.how ground_how,
                (select json_agg(t order by t.id) from swap_step t
                    where t.swap_id = s.id and t.kind in ('WENT', 'FINAL', 'TAKEN_BACK')) steps,
                (select json_agg(a order by a.id) from swap_answer a where a.swap_id = s.id) answers,
                (select json_agg(p order by p.id) from swap_photo_kept p where p.swap_id = s.id) photos
            from swap s
            left join lateral (select * from swap_ground g where g.swap_id = s.id order by g.id desc limit 1) g on true
            where s.ticket_number = :ticket order by s.id""";

    private SwapReads() {}

    static SwapView view(Tuple r, Currency currency) {
        var went = new ArrayList<Went>();
        Ended ended = null;
        for (Tuple step : r.getRows("steps")) {
            String kind = step.getString("kind");
            if (kind.equals("WENT")) {
                went.add(Went.valueOf(step.getString("went")));
            } else {
                ended = new Ended(
                        kind.equals("FINAL"), step.getString("words"), step.getInstant("at"), step.getString("who"));
            }
        }
        var answers = new EnumMap<Check, Answer>(Check.class);
        r.getRows("answers")
                .forEach(a -> answers.put(
                        Check.valueOf(a.getString("item")),
                        new Answer(Answer.Seen.valueOf(a.getString("seen")), a.getString("words"))));
        // Every swap begins with a step that says where the old part went.
        var removed = new RemovedPart(
                r.getString("removed_number"),
                r.getString("removed_maker"),
                r.getString("removed_date_code"),
                r.getString("removed_condition"),
                went.get(0));
        BigDecimal cost = r.getBigDecimal("fitted_cost");
        var fitted = new FittedPart(
                r.getString("what"),
                r.getString("fitted_number"),
                r.getString("fitted_maker"),
                r.getString("fitted_serial"),
                r.getString("fitted_supplier"),
                cost == null ? null : Money.rounded(cost, currency));
        return new SwapView(
                r.getLong("id"),
                new SymptomRef(new TicketNumber(r.getInt("ticket_number")), r.getInt("place")),
                removed,
                went.get(went.size() - 1),
                fitted,
                r.getBoolean("trial"),
                pay(r, currency),
                PartNumbers.compare(removed.number(), fitted.number()),
                ground(r),
                answers,
                r.getRows("photos").stream()
                        .map(p -> new Photo(Exhibit.of(p), p.getString("part").equals(Side.REMOVED.name())))
                        .toList(),
                r.getInstant("at"),
                r.getString("who"),
                ended);
    }

    private static @Nullable NumberGround ground(Tuple r) {
        String source = r.getString("ground_source");
        if (source != null) {
            return new NumberGround.Supersession(source);
        }
        String reason = r.getString("ground_reason");
        return reason == null
                ? null
                : new NumberGround.Consent(reason, r.getString("ground_by_whom"), r.getString("ground_how"));
    }

    private static Pay pay(Tuple r, Currency currency) {
        Long line = r.getLongOrNull("estimate_line_id");
        if (line != null) {
            return new Pay.ByEstimate(line);
        }
        BigDecimal price = r.getBigDecimal("price");
        return price != null
                ? new Pay.ByHand(Money.rounded(price, currency))
                : new Pay.Free(r.getString("free_because"));
    }
}
