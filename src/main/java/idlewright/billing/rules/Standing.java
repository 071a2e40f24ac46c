package idlewright.billing.rules;

import java.util.List;
import java.util.Map;
import java.util.TreeMap;

/** Where a group of lines stands with the customer. */
public enum Standing {
    /** Not answered. */
    OPEN("not answered yet"),
    AGREED("agreed"),
    /** Agreed on an earlier estimate, and not a line of it changed since. */
    AGREED_BEFORE("agreed before, not changed"),
    DECLINED("declined"),
    /** Declined on an earlier estimate, and not a line of it changed since. */
    DECLINED_BEFORE("declined before, not changed");

    /** One issue of an estimate: its lines by place, and what was answered by place. */
    public record Issue(Map<Integer, List<Line>> groups, Map<Integer, Boolean> answers) {}

    private final String words;

    Standing(String words) {
        this.words = words;
    }

    public String words() {
        return words;
    }

    public boolean agreed() {
        return this == AGREED || this == AGREED_BEFORE;
    }

    public boolean declined() {
        return this == DECLINED || this == DECLINED_BEFORE;
    }

    /** Whether the customer is asked about it: a mind may change about what was declined, what is agreed is agreed. */
    public boolean asked() {
        return this == OPEN || this == DECLINED_BEFORE;
    }

    /** How the groups of each issue stand, when the issues come oldest first. */
    public static List<Map<Integer, Standing>> of(List<Issue> issues) {
        var all = new java.util.ArrayList<Map<Integer, Standing>>();
        for (int i = 0; i < issues.size(); i++) {
            Issue issue = issues.get(i);
            var standings = new TreeMap<Integer, Standing>();
            for (var group : issue.groups().entrySet()) {
                int place = group.getKey();
                Boolean answer = issue.answers().get(place);
                Standing before = i == 0 ? null : all.get(i - 1).get(place);
                boolean same = before != null
                        && Change.between(issues.get(i - 1).groups().get(place), group.getValue())
                                .isEmpty();
                if (answer != null) {
                    standings.put(place, answer ? AGREED : DECLINED);
                } else if (same && before.agreed()) {
                    standings.put(place, AGREED_BEFORE);
                } else if (same && before.declined()) {
                    standings.put(place, DECLINED_BEFORE);
                } else {
                    standings.put(place, OPEN);
                }
            }
            all.add(standings);
        }
        return all;
    }
}
