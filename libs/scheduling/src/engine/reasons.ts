/** Kinds of reasons; a reason is a kind plus eight times the number of the clause, edge, node or cost term. */
export const CLAUSE = 0;
/** An edge pushed the later event's lower bound. */
export const EDGE_FORWARD = 1;
/** An edge pushed the earlier event's upper bound. */
export const EDGE_BACKWARD = 2;
/** An edge can't be in force. */
export const EDGE_OFF = 3;
/** Whichever way a train comes to a node, it is not there earlier; or leaves it, not later. */
export const NODE = 4;
/** A node's two variables are one, because the train comes by; or it can't come by. */
export const PRESENCE = 5;
/** The cost of the terms, and what it leaves for one of them. */
export const COST = 6;
