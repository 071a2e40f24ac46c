package idlewright.billing.screens;

import idlewright.billing.Offers;
import idlewright.frame.Crowd;
import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.people.Public;
import idlewright.people.Shops;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.util.LinkedHashMap;
import java.util.Map;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** The customer sees an estimate behind a secret link, and says yes or no to each group of its lines. */
@Controller
@Public
class OfferScreen {

    private final Offers offers;
    private final Shops shops;
    private final Crowd crowd;
    private final Problems problems;

    OfferScreen(Offers offers, Shops shops, Crowd crowd, Problems problems) {
        this.offers = offers;
        this.shops = shops;
        this.crowd = crowd;
        this.problems = problems;
    }

    @GetMapping("/offers/{secret:[A-Za-z0-9_-]{22}}")
    String offer(@PathVariable String secret, HttpServletRequest request, HttpServletResponse response, Model model) {
        crowd.letIn(request.getRemoteAddr());
        return page(secret, Map.of(), response, model);
    }

    @PostMapping("/offers/{secret:[A-Za-z0-9_-]{22}}")
    String answer(
            @PathVariable String secret,
            @RequestParam Map<String, String> typed,
            HttpServletRequest request,
            HttpServletResponse response,
            Model model) {
        crowd.letIn(request.getRemoteAddr());
        try {
            var chosen = new LinkedHashMap<Integer, Boolean>();
            offers.open(secret).told().forEach(told -> {
                int place = told.group().place();
                String said = typed.get("group-" + place);
                if ("yes".equals(said) || "no".equals(said)) {
                    chosen.put(place, said.equals("yes"));
                }
            });
            offers.answer(secret, chosen, typed.getOrDefault("name", ""));
            return "redirect:/offers/" + secret;
        } catch (Refused no) {
            return problems.show(model, no, page(secret, typed, response, model));
        }
    }

    private String page(String secret, Map<String, String> typed, HttpServletResponse response, Model model) {
        // The address is the key to the page: it must not travel on in a Referer header, nor stay in a search engine.
        response.setHeader("Referrer-Policy", "no-referrer");
        response.setHeader("X-Robots-Tag", "noindex");
        model.addAttribute("page", offers.open(secret));
        model.addAttribute("secret", secret);
        model.addAttribute("typed", typed);
        model.addAttribute("shop", shops.shop());
        return "billing/offer";
    }
}
