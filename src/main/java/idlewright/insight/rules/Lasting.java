package idlewright.insight.rules;

import idlewright.reference.stats.LogRank;
import idlewright.reference.stats.Proportion;
import idlewright.reference.stats.Survival;
import idlewright.reference.stats.TwoShares;
import java.time.LocalDate;
import java.util.List;

/** How long repairs last; a car still out there counts up to today, then leaves. */
public record Lasting(Survival survival, double longest) {

    public static Lasting of(List<HandedThread> threads, LocalDate today) {
        double[] days = days(threads, today);
        double longest = 0;
        for (double day : days) {
            longest = Math.max(longest, day);
        }
        return new Lasting(Survival.of(days, outcomes(threads)), longest);
    }

    /** The curve from the day of handing back to the longest watched: days, per cent, and the likely range of these. */
    public double[][] curve() {
        var steps = survival.steps();
        int n = steps.size();
        boolean on = n == 0 || steps.get(n - 1).time() < longest;
        int points = 1 + n + (on ? 1 : 0);
        double[][] curve = new double[4][points];
        curve[1][0] = curve[2][0] = curve[3][0] = 100;
        for (int i = 0; i < n; i++) {
            var likely = steps.get(i).likely();
            curve[0][i + 1] = steps.get(i).time();
            curve[1][i + 1] = 100 * steps.get(i).survival();
            curve[2][i + 1] = 100 * likely.low();
            curve[3][i + 1] = 100 * likely.high();
        }
        if (on) {
            for (int row = 1; row < 4; row++) {
                curve[row][points - 1] = curve[row][points - 2];
            }
            curve[0][points - 1] = longest;
        }
        return curve;
    }

    /** How many of them were still watched after so many days. */
    public static long watched(List<HandedThread> threads, LocalDate today, int day) {
        return threads.stream().filter(thread -> thread.days(today) >= day).count();
    }

    /** Two groups side by side in words: how often, how soon, and how much that says. */
    public record Compared(String shares, String times, String small) {}

    public static Compared compare(List<HandedThread> first, List<HandedThread> second, LocalDate today) {
        var shares = TwoShares.compare(share(first), share(second));
        var times = LogRank.compare(days(first, today), outcomes(first), days(second, today), outcomes(second));
        int events = events(first) + events(second);
        boolean few = Math.min(first.size(), second.size()) < 10 || events < 5;
        return new Compared(
                shares.words(),
                times.words(),
                few && !shares.real()
                        ? "With so few, only a very large difference would show. That none is seen does not mean that there is none."
                        : few ? "These are few cases; look at each of them before acting on it." : "");
    }

    private static Proportion share(List<HandedThread> threads) {
        return Proportion.of(events(threads), threads.size());
    }

    private static int events(List<HandedThread> threads) {
        return (int) threads.stream().filter(HandedThread::cameBack).count();
    }

    private static double[] days(List<HandedThread> threads, LocalDate today) {
        return threads.stream().mapToDouble(thread -> thread.days(today)).toArray();
    }

    private static boolean[] outcomes(List<HandedThread> threads) {
        boolean[] outcomes = new boolean[threads.size()];
        for (int i = 0; i < outcomes.length; i++) {
            outcomes[i] = threads.get(i).cameBack();
        }
        return outcomes;
    }
}
