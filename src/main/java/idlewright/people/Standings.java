package idlewright.people;

import com.github.benmanes.caffeine.cache.Caffeine;
import com.github.benmanes.caffeine.cache.LoadingCache;
import idlewright.people.model.Account;
import idlewright.people.model.Accounts;
import java.time.Duration;
import org.springframework.stereotype.Component;
import org.springframework.transaction.support.TransactionSynchronization;
import org.springframework.transaction.support.TransactionSynchronizationManager;

/** Whether a badge still holds, asked at every request: remembered for a few seconds, forgotten at once when it changes. */
@Component
class Standings {

    private record Standing(int generation, boolean here) {}

    private final LoadingCache<Long, Standing> standings;

    Standings(Accounts accounts) {
        standings = Caffeine.newBuilder()
                .maximumSize(1_000)
                .expireAfterWrite(Duration.ofSeconds(10))
                .build(id -> accounts.findById(id)
                        .map(account -> new Standing(account.generation(), !account.retired()))
                        .orElse(new Standing(-1, false)));
    }

    boolean holds(Badge badge) {
        Standing standing = standings.get(badge.person().id());
        return standing.here() && standing.generation() == badge.generation();
    }

    void changed(Account account) {
        Long id = account.id();
        if (TransactionSynchronizationManager.isSynchronizationActive()) {
            TransactionSynchronizationManager.registerSynchronization(new TransactionSynchronization() {
                @Override
                public void afterCompletion(int status) {
                    standings.invalidate(id);
                }
            });
        }
        standings.invalidate(id);
    }
}
