// The overview: deliver what still waits here from an earlier visit.
import { remember } from "/static/link.js";
import { deliver } from "/static/queue.js";

remember();
deliver();
