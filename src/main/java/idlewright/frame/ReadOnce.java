package idlewright.frame;

import jakarta.servlet.http.HttpServletRequest;
import java.util.HashMap;
import java.util.Map;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;
import org.springframework.transaction.support.TransactionSynchronizationManager;
import org.springframework.web.context.request.RequestContextHolder;
import org.springframework.web.context.request.ServletRequestAttributes;

/**
 * Reads once what several rooms ask for while one page is made. Only pages that are looked at (GET) remember: they write
 * nothing, so what they have read stays true until they are sent, and nothing ever has to be forgotten.
 */
@Component
public class ReadOnce {

    /** What the page has read under this key already, else what reading gives now. */
    public <T> T of(Object key, Supplier<T> reading) {
        Map<Object, Object> page = page();
        if (page == null) {
            return reading.get();
        }
        @SuppressWarnings("unchecked") // one key, one kind of thing: keys are named by the room that reads
        T known = (T) page.get(key);
        if (known == null) {
            known = reading.get();
            page.put(key, known);
        }
        return known;
    }

    /** Remembers what was read along with something else; what the page knows already stays. */
    public void know(Object key, Object value) {
        Map<Object, Object> page = page();
        if (page != null) {
            page.putIfAbsent(key, value);
        }
    }

    /** Whether a page is being made that keeps what it reads. */
    public boolean remembers() {
        return page() != null;
    }

    @SuppressWarnings("unchecked")
    private static @Nullable Map<Object, Object> page() {
        boolean writes = TransactionSynchronizationManager.isActualTransactionActive()
                && !TransactionSynchronizationManager.isCurrentTransactionReadOnly();
        if (writes
                || !(RequestContextHolder.getRequestAttributes() instanceof ServletRequestAttributes web)
                || !web.getRequest().getMethod().equals("GET")) {
            return null;
        }
        HttpServletRequest request = web.getRequest();
        var page = (Map<Object, Object>) request.getAttribute(ReadOnce.class.getName());
        if (page == null) {
            page = new HashMap<>();
            request.setAttribute(ReadOnce.class.getName(), page);
        }
        return page;
    }
}
